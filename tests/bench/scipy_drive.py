"""The drive under scipy.integrate.solve_ivp with terminal events.

Equations, guards and switching are those of tests/validation/drive_ode.py; here solve_ivp locates the
events, one function for each guard, and a new call begins behind each event.
"""
import numpy as np
from scipy.integrate import solve_ivp

import drive_ode

NUDGE_S = 1e-9
# solve_ivp looks at the ends of a step only: a lead that touches a rail in between goes unseen in a
# longer one.
LONGEST_S = 1e-4


def run(parameters, options, sensor, phase, tolerance):
    """Figures, right-hand sides, steps and events of one wiring."""
    drive = drive_ode.Drive(parameters, sensor, phase)
    recorder = drive_ode.Recorder(drive, options, 0.0)
    y, t = drive.start(options["start_angle"]), 0.0
    begin = y.copy()
    absolute = np.full(drive_ode.SIZE, tolerance)
    absolute[drive_ode.Q_CHARGE:] = 1e-2 * tolerance

    def event_of(k):
        def event(_, state):
            return drive.guards(state)[k]
        event.terminal, event.direction = True, -1
        return event

    events = [event_of(k) for k in range(len(drive.guards(y)))]
    count = {"rhs": 0, "steps": 0, "events": 0}
    stops, step = [options["settle_s"], options["seconds"]], 1e-6
    while stops:
        step = min(step, LONGEST_S, 0.5 * (stops[0] - t))
        done = solve_ivp(drive.slope, (t, stops[0]), y, method="DOP853", events=events,
                         first_step=step, max_step=LONGEST_S, rtol=tolerance, atol=absolute)
        if done.status < 0:
            raise RuntimeError("solve_ivp: %s at %g s" % (done.message, t))
        count["rhs"] += done.nfev
        count["steps"] += len(done.t) - 1
        if len(done.t) > 2:
            step = max(done.t[-2] - done.t[-3], 1e-9)
        if recorder.part is not None:
            for k in range(len(done.t)):
                recorder.look(done.t[k], done.y[:, k])
        t, y = done.t[-1], done.y[:, -1].copy()
        if done.status == 1:
            count["events"] += 1
            fired = [k for k in range(len(events)) if len(done.t_events[k])]
            for k in fired:
                if drive.fire(y, k):
                    recorder.turns.append((t, y.copy()))
            # Off the root, or rounding would find it again and again.
            middle = y + 0.5 * NUDGE_S * drive.slope(t, y)
            y, t = y + NUDGE_S * drive.slope(t, middle), t + NUDGE_S
            # What fell through within that time, or by the switching itself.
            for _ in range(4):
                for k, guard in enumerate(drive.guards(y)):
                    if guard < 0 and drive.fire(y, k):
                        recorder.turns.append((t, y.copy()))
        else:
            stops.pop(0)
            if recorder.part is None:
                recorder.part = (t, y.copy())
                recorder.look(t, y)
    return drive_ode.figures(recorder, begin, (t, y), options["seconds"]), count
