"""Supplies that are no battery, for the drive of drive_ode.py: a bench supply that limits its current
and takes none back, and a battery behind filament lamps with a diode across them.

The controller's capacitors are a state then, since the supply no longer fixes the bus:
C dV/dt = I - I_bridge. Events: the limit reached and left, the supply blocked and fed again, the
diode across the lamps, and the bridge's own diodes, which keep the bus from falling below zero by
more than their two drops. The filament: R follows tungsten's resistivity, what it radiates T to the
fourth.
"""
import math

import numpy as np

import drive_ode
from drive_ode import DUTY, Q_CHARGE, Q_ENERGY, SIZE

BUS, HEAT, Q_LIMIT = SIZE, SIZE + 1, SIZE + 2

BUS_FARAD = 1e-3  # chosen, as the program's warning of a supply that is pumped up
AMP_SLACK, VOLT_SLACK = 1e-6, 1e-4  # a guard never restarts at its root
DIODE_DROP = 0.7  # across the lamps

# Resistivity of tungsten [uohm cm] from 300 K, every 100 K: handbook table after H. A. Jones, "A
# temperature scale for tungsten", Physical Review 28, 1926, 202 (memory).
RESISTIVITY = [
    5.65, 8.06, 10.56, 13.23, 16.09, 19.00, 21.94, 24.93, 27.94, 30.98, 34.08, 37.19, 40.36, 43.55,
    46.78, 50.05, 53.35, 56.67, 60.06, 63.48, 66.91, 70.39, 73.91, 77.49, 81.04, 84.70, 88.33, 92.04]
ROOM_K, HOT_K = 293.0, 2700.0  # of a lamp at its rated volts: common practice
HEAT_S = 0.1  # chosen: at its rated watts a filament is hot within a tenth of a second


def resistivity(kelvin):
    """Straight between the table's rows, and on beyond its ends."""
    at = (kelvin - 300.0) / 100.0
    k = min(max(int(at), 0), len(RESISTIVITY) - 2)
    return RESISTIVITY[k] + (at - k) * (RESISTIVITY[k + 1] - RESISTIVITY[k])


class BenchSupply(drive_ode.Drive):
    """EMF behind a resistance up to a limit; nothing flows back. `closing`: the duty falls by so
    much a second from the beginning of the last part on, to none."""
    size = SIZE + 3
    amp_slack, volt_slack = AMP_SLACK, VOLT_SLACK
    DUTY_END = 10  # a guard of the drive ...
    FEED, CLAMP = 13, 14  # ... and those of the supply, behind them

    def __init__(self, parameters, sensor, phase, limit_a, closing=0.0):
        super().__init__(parameters, sensor, phase)
        self.closing = closing
        self.limit, self.feeding, self.most_v = limit_a, "volts", self.emf
        self.clamped = False  # the bus, by the bridge's diodes

    def at_rest(self):
        y = super().at_rest()
        y[BUS], y[HEAT] = self.emf, ROOM_K
        return y

    def bus_at(self, y, _):
        return y[BUS]

    def supplied(self, y):
        """Current out of the supply."""
        if self.feeding == "volts":
            return (self.emf - y[BUS]) / self.battery_ohm
        return self.limit if self.feeding == "limit" else 0.0

    def heat_slope(self, y, amps):
        return 0.0

    def slope(self, t, state):
        d = super().slope(t, state)
        y = state.tolist()
        amps, bridge = self.supplied(y), d[Q_CHARGE]
        d[BUS] = 0.0 if self.clamped else (amps - bridge) / BUS_FARAD
        d[HEAT] = self.heat_slope(y, amps)
        d[Q_CHARGE], d[Q_ENERGY] = amps, y[BUS] * amps
        d[Q_LIMIT] = self.feeding == "limit"
        return d

    def supply_guard(self, y):
        amps = (self.emf - y[BUS]) / self.battery_ohm
        if self.feeding == "volts":
            return min(self.limit - amps, amps) + AMP_SLACK
        return (amps - self.limit if self.feeding == "limit" else -amps) + AMP_SLACK

    def begin_part(self, y):
        if self.closing:
            self.ramp, self.duty_mode = -self.closing, "moving"

    def clamp_guard(self, y):
        if not self.clamped:
            return y[BUS] + 2 * self.drop + VOLT_SLACK
        return self.electrics(y)[4] - self.supplied(y) + AMP_SLACK

    def guards(self, y):
        g = super().guards(y)
        if self.duty_mode == "closed":
            g[self.DUTY_END] = 1.0
        return g + [self.supply_guard(y), self.clamp_guard(y)]

    def fire(self, y, which):
        if which == self.DUTY_END and self.ramp < 0:
            self.duty_mode, y[DUTY] = "closed", 0.0
        elif which == self.FEED:
            self.switch(y)
        elif which == self.CLAMP:
            self.clamped = not self.clamped
        else:
            return super().fire(y, which)
        return None

    def switch(self, y):
        amps = (self.emf - y[BUS]) / self.battery_ohm
        if self.feeding != "volts":
            self.feeding = "volts"
        else:
            self.feeding = "limit" if amps > 0.5 * self.limit else "blocked"

    def note_motion(self, y):
        super().note_motion(y)
        self.most_v = max(self.most_v, y[BUS])

    def more(self, part, end):
        (ta, ya), (tb, yb) = part, end
        return {"at_limit": (yb[Q_LIMIT] - ya[Q_LIMIT]) / (tb - ta), "bright": 0.0,
                "bus_most": self.most_v}


class Lamps(BenchSupply):
    """A battery behind lamps of so many watts at its volts, a diode across them."""

    def __init__(self, parameters, sensor, phase, watts):
        super().__init__(parameters, sensor, phase, math.inf)
        self.watts = watts
        self.ohm = self.emf ** 2 / watts / resistivity(HOT_K)  # by one unit of resistivity
        self.joule_per_k = watts * HEAT_S / (HOT_K - ROOM_K)

    @staticmethod
    def kelvin(y):
        """Within what tungsten stands: a step that is only tried may overshoot."""
        return min(max(y[HEAT], 0.0), 3600.0)

    def lamp_ohm(self, y):
        return self.ohm * resistivity(self.kelvin(y))

    def supplied(self, y):
        if self.feeding == "volts":
            return (self.emf - y[BUS]) / (self.battery_ohm + self.lamp_ohm(y))
        return (self.emf + DIODE_DROP - y[BUS]) / self.battery_ohm  # through the diode, back

    def glow(self, y):
        """What it radiates, over its rated watts."""
        return (self.kelvin(y) ** 4 - ROOM_K ** 4) / (HOT_K ** 4 - ROOM_K ** 4)

    def heat_slope(self, y, amps):
        ohm = self.lamp_ohm(y)
        lamp = amps if self.feeding == "volts" else -DIODE_DROP / ohm
        return (lamp ** 2 * ohm - self.watts * self.glow(y)) / self.joule_per_k

    def supply_guard(self, y):
        ohm, amps = self.lamp_ohm(y), self.supplied(y)
        if self.feeding == "volts":  # the lamps' own drop, backward
            return (amps * ohm + DIODE_DROP) / ohm + AMP_SLACK
        return -amps - DIODE_DROP / ohm + AMP_SLACK

    def switch(self, y):
        self.feeding = "diode" if self.feeding == "volts" else "volts"

    def more(self, part, end):
        return {"at_limit": 0.0, "bright": self.glow(end[1]), "bus_most": self.most_v}
