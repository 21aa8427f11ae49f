#!/usr/bin/env python3
"""Unit conversions of the scenario reader against GNU Units.

  check_units.py FIGURES_DUMP RESULT_FOLDER

Each line of a scenario is read by the program, and what it made of it is compared with what GNU
Units makes of the same expression.
"""
import json
import os
import re
import subprocess
import sys
import tempfile

import results

BASE = """hubphase: 1
motor:
  pole_pairs: 23
  resistance_between_leads_ohm: %(resistance)s
  inductance_between_leads_mh: 0.44
  winding_temperature_c: 60
%(backemf)s
sensors:
  hysteresis_deg: 2.5
controller:
  ramp_percent_per_s: 150
  current_filter_ms: 12
  pwm_khz: 16.5
  switch_resistance_mohm: 3.7
supply:
  resistance_mohm: 85
"""
SINE = "  backemf: {shape: sinusoidal}\n"

# What stands for the back-EMF; path in the drive; expression; unit; why it needs a test.
ROWS = [
    ("  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}", "motor.ke",
     "36 V / (2 * 215 revolution/min)", "V s / radian", "line to phase, rev/min to rad/s"),
    ("  backemf_peak_v_per_krpm: 167", "motor.ke", "167 V / (2 * 1000 revolution/min)",
     "V s / radian", "line to phase of a flat top"),
    (SINE + "  backemf_rms_v_per_krpm: 118", "motor.ke",
     "118 V * sqrt(2) / sqrt(3) / (1000 revolution/min)", "V s / radian",
     "rms to peak, line to phase of a sine"),
    (SINE + "  backemf_peak_v_per_krpm: 167", "motor.ke",
     "167 V / sqrt(3) / (1000 revolution/min)", "V s / radian", "line to phase of a sine"),
    ("  torque_constant_nm_per_a: 1.6", "motor.ke", "1.6 N m / A / 2", "V s / radian",
     "torque constant equals back-EMF constant in SI"),
    (None, "motor.resistance_ohm", "0.2 ohm / 2", "ohm", "line to phase"),
    (None, "warm_resistance_ohm", "0.2 ohm / 2 * (1 + 0.00393 * (60 - 20))", "ohm",
     "copper at 60 C, 0.393 % per kelvin"),
    (None, "motor.inductance_h", "0.44 mH / 2", "henry", "line to phase"),
    (None, "sensors.hysteresis_rad", "2.5 degree", "radian", ""),
    (None, "controller.ramp_per_s", "150 percent / s", "1 / s", ""),
    (None, "controller.filter_s", "12 ms", "s", ""),
    (None, "controller.pwm_hz", "16.5 kHz", "Hz", ""),
    (None, "controller.switch_resistance_ohm", "3.7 mohm", "ohm", ""),
    (None, "supply.resistance_ohm", "85 mohm", "ohm", ""),
]


def gnu_units(expression, unit):
    text = subprocess.run(["units", "--terse", "--output-format", "%.15g", expression, unit],
                          capture_output=True, text=True, check=True).stdout
    return float(text)


def read_back(program, backemf):
    with tempfile.TemporaryDirectory() as room:
        path = os.path.join(room, "units.yaml")
        with open(path, "w") as file:
            file.write(BASE % {"resistance": "0.2", "backemf": backemf})
        return json.loads(subprocess.check_output([program, "scenario", path]))


def main(program, folder):
    out = results.Results(folder, "units")
    version = subprocess.run(["units", "--version"], capture_output=True, text=True).stdout
    out.note(re.search(r"GNU Units version \S+", version).group() + ".")
    for backemf, path, expression, unit, why in ROWS:
        drive = read_back(program, backemf or ROWS[0][0])
        value = drive
        for key in path.split("."):
            value = value[key]
        expected = gnu_units(expression, unit)
        # A trapezoid's rms and a shape's mean over a sector are sums; all else is rounding.
        name = re.sub(r" +", " ", (backemf or "").replace(SINE, "sinusoidal,").strip())
        out.row("%s from %s" % (path, name or expression), value, expected, 1e-9 * abs(expected),
                "rounding" + (": " + why if why else ""), "GNU Units, " + expression, "run", unit)
    return out.finish()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
