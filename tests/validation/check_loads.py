"""The machine under load against ngspice, at three loads below the controller's limits.

`hubphase fit` is given a machine and loads it by itself; the same machine is built of parts in
ngspice (netlist.py), in wiring 1, started from rest with a light wheel against the same torque, and
the last turns are compared: speed, battery current, phase current, power to the wheel.

    check_loads.py HUBPHASE FOLDER
"""
import json
import math
import os
import subprocess
import sys

import numpy as np

import netlist

# A plain direct-drive hub; what the scenario leaves out is stated below as its documented default.
VOLTS, RPM, OHM, MH = 42.0, 215.0, 0.2, 0.44
SCENARIO = """hubphase: 1
motor:
  pole_pairs: 23
  resistance_between_leads_ohm: %g
  inductance_between_leads_mh: %g
  no_load_speed_rpm_at_v: {speed_rpm: %g, volts: 36}
  cogging_peak_nm: 0.1
controller: {battery_current_limit_a: none, phase_current_limit_a: none}
supply: {battery_v: 37, resistance_mohm: 80}
stand: {rotor: {friction_nm: 0.35, breakaway_nm: 0.5, viscous_nm_s_per_rad: 0.005}}
pack: {full_v: %g, empty_v: 30}
""" % (OHM, MH, RPM, VOLTS)

# Row by row of the usual table, codes 0 to 7: outputs high, low; -1 is off.
TABLE = [[-1, -1], [0, 1], [2, 0], [2, 1], [1, 2], [0, 2], [1, 0], [-1, -1]]

DRIVE = {
    "motor": {"pole_pairs": 23, "resistance_ohm": OHM / 2, "inductance_h": MH / 2 * 1e-3,
              "ke": 36.0 / (RPM * math.pi / 30) / 2, "backemf": "trapezoidal",
              "flat_rad": 2 * math.pi / 3, "winding_c": 20.0, "copper_per_k": 0.00393,
              "rotor_inertia_kg_m2": 0.0, "cogging_nm": 0.1, "cogging_order": 6,
              "cogging_phase_rad": 0.0},
    "sensors": {"placement_rad": [0.0, 0.0, 0.0], "hysteresis_rad": math.radians(2)},
    "controller": {"table": TABLE, "ramp_per_s": 0, "pwm": "averaged", "duty": 1,
                   "switch_resistance_ohm": 0.004, "diode_drop_v": 0.8},
    "supply": {"emf_v": VOLTS, "resistance_ohm": 0.08},
    # A steady speed does not ask for the wheel's inertia; a light one is there sooner.
    "stand": {"wheel_inertia_kg_m2": 0.02, "gear_ratio": 1, "smooth_rad_s": 0.05,
              "rotor": {"coulomb_nm": 0.35, "viscous_nm_s_rad": 0.005},
              "wheel": {"coulomb_nm": 0.0, "viscous_nm_s_rad": 0.0}, "load_nm": 0.0},
}

# Curves have 24 torques; these lie near the level, a gentle hill and a steep one.
POINTS = (5, 9, 13)
SECONDS, LAST = 0.7, 0.1
# A junction diode's drop differs from the model's at most currents: see netlist.py.
TOLERANCE = {"wheel_rpm": 0.001, "battery_a": 0.003, "phase_rms_a": 0.003, "wheel_w": 0.001}


def outside(torque, folder, label):
    """The same running in ngspice."""
    drive = json.loads(json.dumps(DRIVE))
    drive["stand"]["load_nm"] = torque
    options = {"start_angle": 0.3, "seconds": SECONDS}
    wave = netlist.simulate(drive, options, [0, 1, 2], [0, 1, 2], 5e-6, folder, label)
    # Whole electrical turns at the end.
    turn = 2 * math.pi
    end, begin = wave["theta"][-1], np.interp(SECONDS - LAST, wave["time"], wave["theta"])
    turns = math.floor((end - begin) / turn)
    since = np.interp(end - turns * turn, wave["theta"], wave["time"])
    last = netlist.clip(wave, since, wave["time"][-1])
    speed = netlist.mean(last["time"], last["speed"])
    return {"wheel_rpm": speed * 30 / math.pi, "wheel_w": torque * speed,
            "battery_a": netlist.mean(last["time"], last["battery"]),
            "phase_rms_a": max(math.sqrt(netlist.mean_square(last["time"], last["i_" + x]))
                               for x in netlist.PHASES)}


def main():
    program, folder = sys.argv[1:3]
    os.makedirs(folder, exist_ok=True)
    scenario = os.path.join(folder, "loads.yaml")
    with open(scenario, "w") as file:
        file.write(SCENARIO)
    fit = json.loads(subprocess.run(
        [program, "fit", "--quiet", "--json", "--starts", "1", scenario], check=True,
        capture_output=True).stdout)
    assert fit["correct"] == 1, fit["correct"]
    curve = fit["curves"]["full"]
    assert curve["battery_v"] == VOLTS
    bad = 0
    for k in POINTS:
        ours = curve["points"][k]
        assert ours["runs"] and not ours["limited"]
        theirs = outside(ours["torque_nm"], folder, "loads-%d" % k)
        for name, tolerance in TOLERANCE.items():
            off = ours[name] / theirs[name] - 1
            wrong = not abs(off) <= tolerance
            bad += wrong
            print("%6.2f N m  %-12s %9.3f  ngspice %9.3f  %+.3f %%%s" % (
                ours["torque_nm"], name, ours[name], theirs[name], 100 * off,
                "  FAILED" if wrong else ""))
    return 1 if bad else 0


sys.exit(main())
