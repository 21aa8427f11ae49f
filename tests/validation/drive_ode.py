"""The drive as an ordinary differential equation under SciPy, with event location of its own.

Written from the model's equations alone; it shares nothing with the C sources but the parameters
that it is handed. Integrator: scipy.integrate.DOP853, an explicit Runge-Kutta method of order
8(5,3) (Dormand and Prince) with a dense output of order 7. Events: every accepted step is looked
at in eight places through the dense output, the first change of sign is refined by
scipy.optimize.brentq, and the integrator starts anew behind it.

Left out, since no case needs it: clutch and gear, sensor faults, open leads, real PWM edges,
cut-outs.
"""
import cmath
import math

import numpy as np
from scipy.integrate import DOP853
from scipy.optimize import brentq

TURN = 2 * math.pi
AXES = (0.0, TURN / 3, 2 * TURN / 3)
HIGH, LOW, FLOAT, UPPER, LOWER = range(5)

# State: currents, speed, angle, duty, the two filters; then the integrals.
I, W, THETA, DUTY, BATTERY_FILTER, PHASE_FILTER = 0, 3, 4, 5, 6, 7
(Q_CHARGE, Q_ENERGY, Q_TORQUE, Q_TORQUE2, Q_SPEED2, Q_FRICTION, Q_COPPER, Q_DIODE, Q_BUS, Q_DUTY,
 Q_FIELD_RE, Q_FIELD_IM, Q_I2) = range(8, 21)
SIZE = Q_I2 + 3

LOOKS = 8           # places in a step at which guards are looked at
CLOSER = 20         # parts between two of them where the torque is near an extreme ...
NEAR = 2e-2         # ... by this share of its span
ANGLE_ROUNDING = 1e-12


def wrap(x):
    """x moved into [-pi, pi)."""
    return (x + math.pi) % TURN - math.pi


class Drive:
    size = SIZE  # of the state; a supply that has states of its own puts them behind
    amp_slack = volt_slack = 0.0  # of the diodes' guards, where a coarser step needs some

    def __init__(self, parameters, wiring_sensor, wiring_phase):
        motor, stand = parameters["motor"], parameters["stand"]
        control, supply = parameters["controller"], parameters["supply"]
        sensors = parameters["sensors"]
        assert stand["gear_ratio"] == 1 and control["pwm"] == "averaged"
        self.pairs = motor["pole_pairs"]
        self.resistance = motor["resistance_ohm"] * (
            1 + motor["copper_per_k"] * (motor["winding_c"] - 20))
        self.inductance = motor["inductance_h"]
        self.ke = motor["ke"]
        self.sine = motor["backemf"] != "trapezoidal"  # no flats
        self.series = motor["harmonics"] or [(1, 0.0, -1.0)]
        self.flank = math.pi / 2 - motor["flat_rad"] / 2  # half width of a flank
        self.cogging = motor["cogging_nm"], motor["cogging_order"], motor["cogging_phase_rad"]
        self.emf, self.battery_ohm = supply["emf_v"], supply["resistance_ohm"]
        self.switch_ohm, self.drop = control["switch_resistance_ohm"], control["diode_drop_v"]
        self.inertia = motor["rotor_inertia_kg_m2"] + stand["wheel_inertia_kg_m2"]
        rotor, wheel = stand["rotor"], stand["wheel"]
        self.coulomb = rotor["coulomb_nm"] + wheel["coulomb_nm"]
        self.breakaway = rotor["breakaway_nm"] + wheel["breakaway_nm"]
        self.viscous = rotor["viscous_nm_s_rad"] + wheel["viscous_nm_s_rad"]
        self.load, self.smooth = stand["load_nm"], stand["smooth_rad_s"]
        self.target, self.ramp = control["duty"], control["ramp_per_s"]
        self.tau, self.gain = control["filter_s"], control["limiter_per_s"]
        self.limits = [1 / a if a > 0 else 0.0
                       for a in (control["battery_limit_a"], control["phase_limit_a"])]
        self.table = control["table"]
        self.hysteresis = sensors["hysteresis_rad"]
        self.centre = [a + p for a, p in zip(AXES, sensors["placement_rad"])]
        self.invert_v = sensors["spacing_60"]
        self.wiring_sensor, self.wiring_phase = wiring_sensor, wiring_phase

    # ---- mode ------------------------------------------------------------------------------

    def at_rest(self):
        return np.zeros(self.size)

    def start(self, angle):
        y = self.at_rest()
        y[THETA] = angle
        y[DUTY] = 0.0 if self.ramp > 0 else self.target
        self.duty_mode = "moving" if self.ramp > 0 else "held"
        self.inside = [abs(wrap(angle - c)) < math.pi / 2 for c in self.centre]
        self.on_flat = [not self.sine and abs(self.triangle(angle - a)) > self.flank for a in AXES]
        self.leg = [FLOAT] * 3
        self.sticks, self.sign, self.moved = False, 1.0, 0.0
        self.turn = math.floor(angle / TURN)
        self.commute(y)
        self.settle_motion(y)
        return y

    @staticmethod
    def triangle(x):
        """Distance to the nearest zero of the shape, signed so that it falls through x = 0."""
        return -math.asin(math.sin(x))

    def shape(self, k, theta):
        x = theta - AXES[k]
        if self.sine:
            return sum(c * math.cos(n * x) + s * math.sin(n * x) for n, c, s in self.series)
        if self.on_flat[k]:
            return 1.0 if math.sin(x) < 0 else -1.0
        # Unclipped: the straight flank goes on past its ends until the event says otherwise.
        zero = round(x / math.pi)
        return (x - zero * math.pi) / self.flank * (-1.0 if zero % 2 == 0 else 1.0)

    def shapes(self, theta):
        return [self.shape(k, theta) for k in range(3)]

    def able(self):
        """The most torque that three currents of one ampere, rms together, can give on average
        (Cauchy and Schwarz): ke times the rms of the shapes about their mean."""
        theta = np.arange(7200) * TURN / 7200
        rows = []
        for a in AXES:
            x = theta - a
            rows.append(sum(c * np.cos(n * x) + s * np.sin(n * x) for n, c, s in self.series)
                        if self.sine else np.clip(-np.arcsin(np.sin(x)) / self.flank, -1, 1))
        rows = np.array(rows)
        return self.ke * math.sqrt(np.mean(np.sum((rows - rows.mean(axis=0)) ** 2, axis=0)))

    def commute(self, y):
        bits = [1 if self.inside[s] else 0 for s in range(3)]
        if self.invert_v:
            bits[1] = 1 - bits[1]
        seen = [bits[self.wiring_sensor[j]] for j in range(3)]
        high, low = self.table[4 * seen[0] + 2 * seen[1] + seen[2]]
        # Every code that a case can show drives a pair.
        assert high >= 0 and low >= 0
        high, low = self.wiring_phase[high], self.wiring_phase[low]
        for k in range(3):
            if k == high:
                self.leg[k] = HIGH
            elif k == low:
                self.leg[k] = LOW
            elif abs(y[k]) > 1e-9:
                self.leg[k] = LOWER if y[k] > 0 else UPPER
            else:
                self.release(y, k)
        self.settle_float(y)

    def release(self, y, k):
        """A lead whose diode has let go; the others carry the rounding."""
        self.leg[k] = FLOAT
        rest = [j for j in range(3) if self.leg[j] != FLOAT and j != k]
        for j in rest:
            y[j] += y[k] / len(rest)
        y[k] = 0.0

    def settle_float(self, y):
        for k in range(3):
            if self.leg[k] != FLOAT:
                continue
            bus, star, e = self.electrics(y)[:3]
            if star + e[k] >= bus + self.drop:
                self.leg[k] = UPPER
            elif star + e[k] <= -self.drop:
                self.leg[k] = LOWER

    def settle_motion(self, y):
        if self.smooth > 0:
            return
        if abs(y[W]) > 1e-11:
            self.sticks, self.sign = False, math.copysign(1.0, y[W])
            return
        y[W] = 0.0
        torque = self.shaft_torque(y) - self.load
        # At the root of breaking away the torque equals the level up to rounding.
        self.sticks = abs(torque) < self.breakaway * (1 - 1e-12)
        self.sign = math.copysign(1.0, torque)

    # ---- equations -------------------------------------------------------------------------

    def bus_at(self, y, battery):
        return self.emf - self.battery_ohm * battery

    def electrics(self, y, shapes=None):
        """Bus voltage, star point, back-EMFs, terminal voltages, battery current; `shapes` at its
        angle, where they are known."""
        w, duty = y[W], y[DUTY]
        e = [self.ke * w * shape for shape in shapes or self.shapes(y[THETA])]
        battery = 0.0
        for k in range(3):
            if self.leg[k] == HIGH:
                battery += duty * y[k]
            elif self.leg[k] == UPPER:
                battery += y[k]
        bus = self.bus_at(y, battery)
        v = [0.0] * 3
        star, count = 0.0, 0
        for k in range(3):
            leg = self.leg[k]
            if leg == FLOAT:
                continue
            v[k] = (duty * bus - self.switch_ohm * y[k] if leg == HIGH else
                    -self.switch_ohm * y[k] if leg == LOW else
                    bus + self.drop if leg == UPPER else -self.drop)
            star += v[k] - self.resistance * y[k] - e[k]
            count += 1
        return bus, star / count, e, v, battery

    def torque(self, y, shapes=None):
        a, b, c = shapes or self.shapes(y[THETA])
        return self.ke * (a * y[0] + b * y[1] + c * y[2])

    def shaft_torque(self, y):
        amplitude, order, phase = self.cogging
        return self.torque(y) + amplitude * math.sin(order * y[THETA] + phase)

    def margin(self, y):
        return 1.0 - max(y[BATTERY_FILTER] * self.limits[0], y[PHASE_FILTER] * self.limits[1])

    def slope(self, _, state):
        y = state.tolist()
        d = [0.0] * self.size
        shapes = self.shapes(y[THETA])
        bus, star, e, v, battery = self.electrics(y, shapes)
        w = y[W]
        copper = diode = 0.0
        for k in range(3):
            leg, i = self.leg[k], y[k]
            if leg == FLOAT:
                continue
            d[k] = (v[k] - star - self.resistance * i - e[k]) / self.inductance
            driven = leg in (HIGH, LOW)
            copper += (self.resistance + (self.switch_ohm if driven else 0.0)) * i * i
            diode += 0.0 if driven else self.drop * abs(i)
            d[Q_I2 + k] = i * i
        torque = self.torque(y, shapes)
        if not self.sticks:
            amplitude, order, phase = self.cogging
            dry = math.tanh(w / self.smooth) if self.smooth > 0 else self.sign
            friction = self.coulomb * dry + self.viscous * w + self.load
            cog = amplitude * math.sin(order * y[THETA] + phase)
            d[W] = (torque + cog - friction) / self.inertia
            d[THETA] = self.pairs * w
            d[Q_FRICTION] = friction * w
        if self.duty_mode == "moving":
            limited = any(self.limits)
            d[DUTY] = min(self.ramp, self.gain * self.margin(y)) if limited else self.ramp
        d[BATTERY_FILTER] = (battery - y[BATTERY_FILTER]) / self.tau
        d[PHASE_FILTER] = (0.5 * (abs(y[0]) + abs(y[1]) + abs(y[2])) - y[PHASE_FILTER]) / self.tau
        d[Q_CHARGE], d[Q_ENERGY], d[Q_BUS], d[Q_DUTY] = battery, bus * battery, bus, y[DUTY]
        d[Q_TORQUE], d[Q_TORQUE2], d[Q_SPEED2] = torque, torque * torque, w * w
        # Current vector along the phase axes, as seen from the rotor.
        field = sum(y[k] * cmath.exp(1j * (AXES[k] - y[THETA])) for k in range(3))
        d[Q_FIELD_RE], d[Q_FIELD_IM] = field.real, field.imag
        d[Q_COPPER], d[Q_DIODE] = copper, diode
        return np.array(d)

    # ---- events ----------------------------------------------------------------------------

    def guards(self, y):
        """All positive while the mode holds."""
        theta = y[THETA]
        g = []
        for k in range(3):
            x = abs(wrap(theta - self.centre[k]))
            g.append(math.pi / 2 + self.hysteresis - x if self.inside[k] else
                     x - math.pi / 2 + self.hysteresis)
        for k in range(3):
            if self.sine:
                g.append(1.0)
            else:
                beyond = abs(self.triangle(theta - AXES[k])) - self.flank
                g.append(beyond if self.on_flat[k] else -beyond)
        floats = FLOAT in self.leg
        if floats:
            bus, star, e = self.electrics(y)[:3]
        for k in range(3):
            leg = self.leg[k]
            if leg == UPPER:
                g.append(self.amp_slack - y[k])
            elif leg == LOWER:
                g.append(self.amp_slack + y[k])
            elif leg == FLOAT:
                v = star + e[k]
                g.append(min(bus + self.drop - v, v + self.drop) + self.volt_slack)
            else:
                g.append(1.0)
        if self.smooth > 0:
            g.append(self.sign * y[W])
        elif self.sticks:
            g.append(self.breakaway - abs(self.shaft_torque(y) - self.load))
        else:
            g.append(self.sign * y[W])
        if self.duty_mode == "moving":
            g.append(min(self.target - y[DUTY], y[DUTY] + 1e-15))
        elif not any(self.limits):
            g.append(1.0)
        else:
            g.append(self.margin(y) if self.duty_mode == "held" else -self.margin(y))
        g.append((self.turn + 1) * TURN - theta)
        g.append(theta - self.turn * TURN)
        return g

    def fire(self, y, which):
        """Switches the mode; says whether a whole turn was completed, or a swing ended."""
        if which < 3:
            self.inside[which] = not self.inside[which]
            self.commute(y)
        elif which < 6:
            self.on_flat[which - 3] = not self.on_flat[which - 3]
        elif which < 9:
            k = which - 6
            if self.leg[k] == FLOAT:
                # The root may lie a rounding inside the rail: which rail is beyond doubt.
                bus, star, e = self.electrics(y)[:3]
                self.leg[k] = UPPER if star + e[k] > 0.5 * bus else LOWER
            else:
                self.release(y, k)
        elif which == 9:
            if self.smooth > 0:
                self.sign, y[W] = -self.sign, 0.0
            elif self.sticks:
                self.sticks = False
                self.sign = math.copysign(1.0, self.shaft_torque(y) - self.load)
            else:
                y[W] = 0.0
                self.settle_motion(y)
        elif which == 10:
            self.settle_duty(y)
        elif which == 11:
            self.turn += 1
        else:
            self.turn -= 1
        if which >= 11:
            return "turn"
        if which == 9 and not self.sticks:
            moved, self.moved = self.moved, self.sign if self.smooth == 0 else 0.0
            if moved * self.sign < 0:
                return "forward" if self.sign > 0 else "backward"
        return None

    def begin_part(self, y):
        """The last part begins."""

    def more(self, part, end):
        """Figures of a supply; two snapshots (time, state) that bound the last part."""
        return {}

    def note_motion(self, y):
        """Smoothed friction: slower than the law's own speed a rotor only creeps."""
        if self.smooth > 0 and abs(y[W]) > self.smooth:
            self.moved = math.copysign(1.0, y[W])

    def settle_duty(self, y):
        if self.duty_mode != "moving":
            self.duty_mode = "moving"
        elif y[DUTY] > 0.5 * self.target:
            self.duty_mode, y[DUTY] = "held", self.target
        else:
            self.duty_mode, y[DUTY] = "floor", 0.0


class Recorder:
    """Extremes over the last part, snapshots at whole turns and swings, samples at even times."""

    def __init__(self, drive, options, interval):
        self.drive, self.settle = drive, options["settle_s"]
        self.turns, self.part = [], None
        self.swings = {"forward": [], "backward": []}
        self.torque, self.peak, self.theta = [], 0.0, []
        self.interval, self.wave = interval, []
        self.low, self.high = math.inf, -math.inf

    def look(self, t, y):
        if t < self.settle:
            return
        self.torque.append(self.drive.torque(y))
        self.low, self.high = min(self.low, self.torque[-1]), max(self.high, self.torque[-1])
        self.theta.append(y[THETA])
        self.peak = max(self.peak, abs(y[0]), abs(y[1]), abs(y[2]))

    def look_closer(self, ta, tb, dense):
        """Twenty looks between two, where the torque is near an extreme: it may have a kink there."""
        if ta < self.settle or not self.torque:
            return
        margin = NEAR * (self.high - self.low)
        ends = self.torque[-1], self.drive.torque(dense(tb).tolist())
        if min(ends) <= self.low + margin or max(ends) >= self.high - margin:
            times = [ta + (tb - ta) * k / CLOSER for k in range(1, CLOSER)]
            for t, state in zip(times, states_at(dense, times)):
                self.look(t, state)

    def sample(self, t0, t1, dense):
        if not self.interval:
            return
        k = len(self.wave)
        while k * self.interval <= t1:
            t = k * self.interval
            y = dense(max(t, t0))
            self.wave.append((t, y[THETA], y[W], y[0], y[1], y[2], self.drive.torque(y)))
            k += 1


def states_at(dense, times):
    """As lists, whose elements Python takes several times faster than those of an array."""
    return dense(np.array(times)).T.tolist()


def whole_swings(recorder, end):
    """First and last of the longer row of reversals, unless more than two mean swings have gone by
    since."""
    rows = [[s for s in row if s[0] >= recorder.settle] for row in recorder.swings.values()]
    spans = [row[-1][0] - row[0][0] if len(row) > 1 else 0.0 for row in rows]
    row, span = rows[spans.index(max(spans))], max(spans)
    if span > 0 and (end - row[-1][0]) * (len(row) - 1) <= 2 * span:
        return row[0], row[-1]
    return None


def figures(recorder, begin, end, seconds):
    """The figures under the names of the C program."""
    a, b = recorder.part, end
    (ta, ya), (tb, yb) = a, b
    whole = [s for s in recorder.turns if s[0] >= recorder.settle]
    turns = 0
    if len(whole) > 1 and abs(whole[-1][1][THETA] - whole[0][1][THETA]) > math.pi:
        (ta, ya), (tb, yb) = whole[0], whole[-1]
        turns = round(abs(yb[THETA] - ya[THETA]) / TURN)
    else:
        swings = whole_swings(recorder, end[0])
        if swings:
            (ta, ya), (tb, yb) = swings
    span, q = tb - ta, yb - ya
    speed = q[THETA] / recorder.drive.pairs / span

    def sd(square, mean):
        return math.sqrt(max(0.0, square / span - mean * mean))

    return {
        "seconds": seconds, "window_s": span, "window_turns": turns,
        "net_turn": end[1][THETA] - begin[THETA], "window_turn": end[1][THETA] - a[1][THETA],
        "swing": max(recorder.theta) - min(recorder.theta),
        "speed": speed, "speed_sd": sd(q[Q_SPEED2], speed), "wheel_speed": speed,
        "torque_mean": q[Q_TORQUE] / span, "torque_rms": sd(q[Q_TORQUE2], q[Q_TORQUE] / span),
        "torque_able": recorder.drive.able() * math.sqrt(sum(q[Q_I2 + k] for k in range(3)) / span),
        "wheel_turn": end[1][THETA] - a[1][THETA],
        "lead_mean": math.atan2(q[Q_FIELD_IM], q[Q_FIELD_RE]),
        "torque_min": min(recorder.torque), "torque_max": max(recorder.torque),
        "battery_current": q[Q_CHARGE] / span, "battery_power": q[Q_ENERGY] / span,
        "friction_power": q[Q_FRICTION] / span, "copper_power": q[Q_COPPER] / span,
        "diode_power": q[Q_DIODE] / span, "phase_peak": recorder.peak,
        "phase_rms": math.sqrt(max(q[Q_I2 + k] for k in range(3)) / span),
        "bus_voltage": q[Q_BUS] / span, "duty": q[Q_DUTY] / span, "duty_asked": recorder.drive.target,
        "status": 0, **recorder.drive.more(a, b),
    }


def run(parameters, options, sensor, phase, tolerance=1e-9, interval=0.0, drive=None,
        extremes=True):
    """Figures and, with an interval, samples of one wiring. Without extremes only means are good."""
    drive = drive or Drive(parameters, sensor, phase)
    recorder = Recorder(drive, options, interval)
    y, t, h = drive.start(options["start_angle"]), 0.0, 1e-6
    begin = y.copy()
    # Scales as sizes below which a quantity no longer matters.
    absolute = np.full(drive.size, tolerance)
    absolute[Q_CHARGE:] = 1e-2 * tolerance
    stops = [options["settle_s"], options["seconds"]]
    while stops:
        # Looks for extremes lie no further apart than 20 us while they count.
        longest = 2e-5 * LOOKS if recorder.part and extremes else np.inf
        solver = DOP853(drive.slope, t, y, stops[0], first_step=min(h, longest, stops[0] - t),
                        max_step=longest, rtol=tolerance, atol=absolute)
        restart = False
        while not restart:
            solver.step()
            if solver.status == "failed":
                raise RuntimeError("SciPy's step collapsed at %g s" % t)
            h = max(solver.h_abs, 1e-9)
            t0, t1, dense = solver.t_old, solver.t, solver.dense_output()
            found = None
            times = [t0 + (t1 - t0) * n / LOOKS for n in range(LOOKS)]
            states = states_at(dense, times) + [solver.y.tolist()]
            before = drive.guards(states[0])
            ta = t0
            for tb, state in zip(times[1:] + [t1], states[1:]):
                after = drive.guards(state)
                drive.note_motion(state)
                bad = [k for k in range(len(after)) if after[k] < 0]
                if bad:
                    def root(k):
                        if before[k] <= 0:
                            return ta
                        return brentq(lambda s: drive.guards(dense(s).tolist())[k], ta, tb, xtol=1e-15,
                                      rtol=1e-14)
                    found = min((root(k), k) for k in bad)
                    break
                if extremes:
                    recorder.look_closer(ta, tb, dense)
                recorder.look(tb, state)
                before, ta = after, tb
            if found:
                t, k = found
                recorder.sample(t0, t, dense)
                if t > ta and extremes:
                    recorder.look_closer(ta, t, dense)
                y = dense(t) if t > t0 else solver.y_old.copy()
                recorder.look(t, y)
                done = drive.fire(y, k)
                if done == "turn":
                    recorder.turns.append((t, y.copy()))
                elif done:
                    recorder.swings[done].append((t, y.copy()))
                recorder.look(t, y)
                restart = True
            else:
                recorder.sample(t0, t1, dense)
                if solver.status == "finished":
                    t, y = t1, solver.y.copy()
                    stops.pop(0)
                    if recorder.part is None:
                        recorder.part = (t, y.copy())
                        drive.begin_part(y)
                    restart = True
    return figures(recorder, begin, (t, y.copy()), options["seconds"]), recorder.wave
