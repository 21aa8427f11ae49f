"""Writes the whole drive as an ngspice netlist, runs it and measures the same figures.

The circuit is built from parts, as it would be on a bench: battery with its resistance, six
switches with junction diodes across them, a star of R, L and a behavioural source of back-EMF in
each phase. The mechanics are an analogue computer beside it: rotor speed is the voltage of a
capacitor charged by torque, electrical angle that of one charged by speed. Sensors are switches
with hysteresis that look at the cosine of the angle; table and wiring are products of their
outputs at the gates.

Not the same as the model, and meant not to be: a junction diode's drop varies with its current, a
switch that is off leaks, a step's end need not fall on an event.
"""
import math
import os
import subprocess

import numpy as np

PHASES = "uvw"
TURN = 2 * math.pi

# The junction diode: emission coefficient 1, and the model's drop at this current; it changes by
# 60 mV a decade. The stiff one, for telling what the junction does: a twentieth of that, and the
# rest of the drop in a fixed source.
DIODE_AMPERES = 10.0
THERMAL_V = 0.025865  # at ngspice's 27 C
STIFF_EMISSION, STIFF_SATURATION = 0.05, 1e-9
# An off switch, and the only way from a floating lead to the rails [ohm].
OFF_OHM = 1e6


def shape(motor, angle):
    """Expression of the unit back-EMF at an angle expression."""
    if motor["backemf"] == "sinusoidal":
        return "(-sin(%s))" % angle
    flank = math.pi / 2 - motor["flat_rad"] / 2
    return "max(-1,min(1,-asin(0.99999999*sin(%s))/%.12g))" % (angle, flank)


def gate_expressions(table, wiring_phase, sensor_of_input):
    """For each motor lead when it is driven high, and low: sums of products of sensor bits."""
    terms = {(lead, side): [] for lead in range(3) for side in (0, 1)}
    for code, row in enumerate(table):
        if row[0] < 0:
            continue
        factors = []
        for j in range(3):
            bit = "v(h%s)" % PHASES[sensor_of_input[j]]
            factors.append(bit if code >> (2 - j) & 1 else "(1-%s)" % bit)
        for side in (0, 1):
            terms[(wiring_phase[row[side]], side)].append("*".join(factors))
    return {key: "+".join(products) for key, products in terms.items()}


def diode(drop, stiff):
    """Model of a diode with this drop at DIODE_AMPERES, and the fixed part of the drop."""
    if stiff:
        junction = STIFF_EMISSION * THERMAL_V * math.log(DIODE_AMPERES / STIFF_SATURATION + 1)
        return "is=%g n=%g" % (STIFF_SATURATION, STIFF_EMISSION), drop - junction
    return "is=%.6g n=1" % (DIODE_AMPERES / (math.exp(drop / THERMAL_V) - 1)), 0.0


def netlist(drive, options, sensor, phase, max_step, out, stiff=False):
    motor, stand, control = drive["motor"], drive["stand"], drive["controller"]
    resistance = motor["resistance_ohm"] * (1 + motor["copper_per_k"] * (motor["winding_c"] - 20))
    inertia = motor["rotor_inertia_kg_m2"] + stand["wheel_inertia_kg_m2"]
    junction, fixed = diode(control["diode_drop_v"], stiff)
    hysteresis = math.sin(drive["sensors"]["hysteresis_rad"])
    assert control["ramp_per_s"] == 0 and stand["gear_ratio"] == 1 and stand["smooth_rad_s"] > 0
    lines = ["hubphase validation"]
    add = lines.append
    add("vbat emf 0 %.12g" % drive["supply"]["emf_v"])
    add("rbat emf bus %.12g" % drive["supply"]["resistance_ohm"])
    add(".model sw1 sw(vt=0.5 vh=0 ron=%.12g roff=%.12g)" % (
        control["switch_resistance_ohm"], OFF_OHM))
    add(".model dj d(%s rs=0 cjo=0 tt=0)" % junction)
    add("vup railup bus %.9g" % fixed)
    add("vdown 0 raildown %.9g" % fixed)
    # Sensors: 1 through the closed switch, 0 through the resistor.
    add(".model swh sw(vt=0 vh=%.12g ron=1 roff=1e9)" % hysteresis)
    add("vone one 0 1")
    for k in range(3):
        x = PHASES[k]
        centre = k * TURN / 3 + drive["sensors"]["placement_rad"][k]
        start = abs((options["start_angle"] - centre + math.pi) % TURN - math.pi) < math.pi / 2
        add("bc%s c%s 0 v=cos(v(theta)-%.12g)" % (x, x, centre))
        add("sh%s one h%s c%s 0 swh %s" % (x, x, x, "on" if start else "off"))
        add("rh%s h%s 0 1e6" % (x, x))
    gates = gate_expressions(control["table"], phase, sensor)
    pwm = control["pwm"]
    if pwm != "averaged":
        period = 1 / control["pwm_hz"]
        edge = 1e-9
        add("vpwm pwm 0 pulse(1 0 %.12g %g %g %.12g %.12g)" % (
            control["duty"] * period, edge, edge, (1 - control["duty"]) * period - edge, period))
    else:
        assert control["duty"] == 1
    for k in range(3):
        x = PHASES[k]
        high, low = gates[(k, 0)], gates[(k, 1)]
        if pwm != "averaged":
            if pwm == "complementary":
                low = "(%s)+(%s)*(1-v(pwm))" % (low, high)
            high = "(%s)*v(pwm)" % high
        add("bgh%s gh%s 0 v=%s" % (x, x, high))
        add("bgl%s gl%s 0 v=%s" % (x, x, low))
        add("s1%s bus t%s gh%s 0 sw1 off" % (x, x, x))
        add("s2%s t%s 0 gl%s 0 sw1 off" % (x, x, x))
        add("d1%s t%s railup dj" % (x, x))
        add("d2%s raildown t%s dj" % (x, x))
        # Winding, with a source of 0 V that reads the current.
        add("vi%s t%s a%s 0" % (x, x, x))
        add("r%s a%s b%s %.12g" % (x, x, x, resistance))
        add("l%s b%s m%s %.12g ic=0" % (x, x, x, motor["inductance_h"]))
        add("bf%s f%s 0 v=%s" % (x, x, shape(motor, "v(theta)-%.12g" % (k * TURN / 3))))
        add("be%s m%s star v=%.12g*v(w)*v(f%s)" % (x, x, motor["ke"], x))
    add("btorque torque 0 v=%.12g*(%s)" % (
        motor["ke"], "+".join("v(f%s)*i(vi%s)" % (x, x) for x in PHASES)))
    friction, wheel = stand["rotor"], stand["wheel"]
    add("bfric fric 0 v=%.12g*tanh(v(w)/%.12g)+%.12g*v(w)+%.12g" % (
        friction["coulomb_nm"] + wheel["coulomb_nm"], stand["smooth_rad_s"],
        friction["viscous_nm_s_rad"] + wheel["viscous_nm_s_rad"], stand["load_nm"]))
    add("bacc 0 w i=v(torque)+%.12g*sin(%d*v(theta)+%.12g)-v(fric)" % (
        motor["cogging_nm"], motor["cogging_order"], motor["cogging_phase_rad"]))
    add("cw w 0 %.12g ic=0" % inertia)
    add("bang 0 theta i=%d*v(w)" % motor["pole_pairs"])
    add("cth theta 0 1 ic=%.12g" % options["start_angle"])
    add(".options method=gear reltol=1e-5 abstol=1e-7 vntol=1e-6 chgtol=1e-12 trtol=1 itl4=100")
    add(".save v(bus) i(vbat) v(theta) v(w) v(torque) v(fric) %s" % " ".join(
        "i(vi%s)" % x for x in PHASES))
    add(".tran %.6g %.12g 0 %.6g uic" % (max_step, options["seconds"], max_step))
    add(".control")
    add("run")
    add("write %s" % out)
    add("quit 0")
    add(".endc")
    add(".end")
    return "\n".join(lines) + "\n"


def read_raw(path):
    """Columns of a binary raw file by name."""
    with open(path, "rb") as file:
        names, variables, points = [], 0, 0
        for line in iter(file.readline, b"Binary:\n"):
            if not line:
                raise RuntimeError("%s is not a binary raw file" % path)
            text = line.decode("ascii", "replace")
            if text.startswith("No. Variables:"):
                variables = int(text.split(":")[1])
            elif text.startswith("No. Points:"):
                points = int(text.split(":")[1])
            elif text.startswith("\t") and len(text.split()) >= 3:
                names.append(text.split()[1])
        data = np.fromfile(file, dtype="<f8", count=variables * points).reshape(points, variables)
    return {name: data[:, k] for k, name in enumerate(names)}


def simulate(drive, options, sensor, phase, max_step, folder, label, stiff=False):
    """Runs ngspice; returns the waveforms as columns."""
    deck, raw = os.path.join(folder, label + ".cir"), os.path.join(folder, label + ".raw")
    with open(deck, "w") as file:
        file.write(netlist(drive, options, sensor, phase, max_step, raw, stiff))
    done = subprocess.run(["ngspice", "-b", deck], capture_output=True, text=True)
    if not os.path.exists(raw):
        raise RuntimeError("ngspice gave nothing for %s:\n%s" % (
            deck, (done.stdout + done.stderr)[-2000:]))
    column = read_raw(raw)
    os.remove(raw)
    wave = {"time": column["time"], "theta": column["v(theta)"], "speed": column["v(w)"],
            "torque": column["v(torque)"], "bus": column["v(bus)"], "friction": column["v(fric)"],
            "battery": -column["i(vbat)"]}
    for x in PHASES:
        wave["i_" + x] = column["i(vi%s)" % x]
    if wave["time"][-1] < options["seconds"] * (1 - 1e-9):
        raise RuntimeError("ngspice stopped at %g s in %s" % (wave["time"][-1], deck))
    return wave


def clip(wave, begin, end):
    """The waveforms between two times, with values at the ends drawn in straight lines."""
    t = wave["time"]
    inside = (t > begin) & (t < end)
    out = {}
    for name, column in wave.items():
        ends = np.interp([begin, end], t, column)
        out[name] = np.concatenate([ends[:1], column[inside], ends[1:]])
    return out


def mean(t, x):
    """Mean over time by the trapezium rule."""
    return float(np.sum(0.5 * (x[1:] + x[:-1]) * np.diff(t)) / (t[-1] - t[0]))


def mean_square(t, x):
    """Mean of the square of straight lines between samples."""
    a, b = x[:-1], x[1:]
    return float(np.sum((a * a + a * b + b * b) / 3 * np.diff(t)) / (t[-1] - t[0]))


def turn_times(wave):
    """Times at which the angle passes a whole multiple of a turn."""
    t, n = wave["time"], wave["theta"] / TURN
    times = []
    for k in np.nonzero(np.floor(n[1:]) != np.floor(n[:-1]))[0]:
        whole = math.floor(max(n[k], n[k + 1]))
        times.append(t[k] + (whole - n[k]) / (n[k + 1] - n[k]) * (t[k + 1] - t[k]))
    return times


def swing_times(part, smooth):
    """First and last moment at which the speed reverses in one direction, of the longer row of the
    two; none where more than two mean swings have gone by since. Slower than the friction law's own
    speed a rotor only creeps."""
    t, w, moved = part["time"], part["speed"], 0
    rows = {1: [], -1: []}
    for k in range(len(w)):
        if w[k] * moved < 0:
            rows[-moved].append(t[k] if w[k - 1] * moved <= 0 else
                                t[k] - w[k] / (w[k] - w[k - 1]) * (t[k] - t[k - 1]))
            moved = 0
        if abs(w[k]) > smooth:
            moved = 1 if w[k] > 0 else -1
    row = max(rows.values(), key=lambda r: r[-1] - r[0] if len(r) > 1 else 0.0)
    if len(row) > 1 and (t[-1] - row[-1]) * (len(row) - 1) <= 2 * (row[-1] - row[0]):
        return row[0], row[-1]
    return None


def able(motor):
    """The most torque that three currents of one ampere, rms together, can give on average
    (Cauchy and Schwarz): ke times the rms of the back-EMF shapes about their mean."""
    rows = []
    for k in range(3):
        x = np.arange(7200) * TURN / 7200 - k * TURN / 3
        flank = math.pi / 2 - motor["flat_rad"] / 2
        rows.append(-np.sin(x) if motor["backemf"] == "sinusoidal" else
                    np.clip(-np.arcsin(np.sin(x)) / flank, -1, 1))
    rows = np.array(rows)
    return motor["ke"] * math.sqrt(np.mean(np.sum((rows - rows.mean(axis=0)) ** 2, axis=0)))


def figures(wave, options, drive):
    """The figures under the names of the C program."""
    part = clip(wave, options["settle_s"], options["seconds"])
    times, window, turns = turn_times(part), part, 0
    if len(times) > 1:
        candidate = clip(part, times[0], times[-1])
        turned = candidate["theta"][-1] - candidate["theta"][0]
        if abs(turned) > math.pi:
            window, turns = candidate, round(abs(turned) / TURN)
    swings = swing_times(part, drive["stand"]["smooth_rad_s"])
    if turns == 0 and swings:
        window = clip(part, *swings)
    t = window["time"]
    torque, speed = mean(t, window["torque"]), mean(t, window["speed"])

    def sd(x, average):
        return math.sqrt(max(0.0, mean_square(t, x - average)))

    currents = [part["i_" + x] for x in PHASES]
    field = sum(window["i_" + x] * np.exp(1j * (k * TURN / 3 - window["theta"]))
                for k, x in enumerate(PHASES))
    squares = sum(mean_square(t, window["i_" + x]) for x in PHASES)
    return {
        "window_s": float(t[-1] - t[0]), "window_turns": turns,
        "net_turn": float(wave["theta"][-1] - wave["theta"][0]),
        "window_turn": float(part["theta"][-1] - part["theta"][0]),
        "speed": speed, "speed_sd": sd(window["speed"], speed),
        "torque_mean": torque, "torque_rms": sd(window["torque"], torque),
        "torque_able": able(drive["motor"]) * math.sqrt(squares),
        "wheel_turn": float(part["theta"][-1] - part["theta"][0]),
        "lead_mean": math.atan2(mean(t, field.imag), mean(t, field.real)),
        "torque_min": float(part["torque"].min()), "torque_max": float(part["torque"].max()),
        "battery_current": mean(t, window["battery"]),
        "battery_power": mean(t, window["battery"] * window["bus"]),
        "friction_power": mean(t, window["friction"] * window["speed"]),
        "phase_peak": float(max(np.abs(i).max() for i in currents)),
        "phase_rms": math.sqrt(max(mean_square(t, window["i_" + x]) for x in PHASES)),
        "duty": drive["controller"]["duty"], "duty_asked": drive["controller"]["duty"],
        "speed_first": float(window["speed"][0]), "speed_last": float(window["speed"][-1]),
        "status": 0,
    }
