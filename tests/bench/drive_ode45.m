% The drive under Octave's ode45 with terminal events: a bench supply, duty held, no limiters, smoothed
% Coulomb friction. Equations as in tests/validation/drive_ode.py, written anew.
%
%   octave-cli drive_ode45.m CASE.json TOLERANCE
%
% CASE.json is what hubphase_probe prints. Prints one JSON line a run: figures, seconds of processor
% time, right-hand sides, steps, events.
1;

function f = shape(p, k, theta, flat)
  x = theta - (k - 1) * 2 * pi / 3;
  if flat(k)
    f = 1 - 2 * (sin(x) >= 0);
  else
    zero = round(x / pi);
    f = (x - zero * pi) / p.flank * (1 - 2 * (mod(zero, 2) == 0));
  end
end

% Legs: 1 high, 2 low, 3 float, 4 upper diode, 5 lower diode.
function [bus, star, e, v] = electrics(p, m, y)
  e = v = zeros(3, 1);
  for k = 1:3
    e(k) = p.ke * y(4) * shape(p, k, y(5), m.flat);
  end
  bus = p.emf - p.battery_ohm * (y(1:3)' * (m.leg == 1 | m.leg == 4));
  on = m.leg != 3;
  v = (m.leg == 1) .* (bus - p.switch_ohm * y(1:3)) - (m.leg == 2) .* p.switch_ohm .* y(1:3) ...
      + (m.leg == 4) * (bus + p.drop) - (m.leg == 5) * p.drop;
  star = sum(on .* (v - p.ohm * y(1:3) - e)) / sum(on);
end

function t = torque(p, m, y)
  t = 0;
  for k = 1:3
    t += p.ke * shape(p, k, y(5), m.flat) * y(k);
  end
end

function d = slope(p, m, y)
  global rhs
  rhs++;
  [bus, star, e, v] = electrics(p, m, y);
  on = m.leg != 3;
  t = torque(p, m, y);
  friction = p.coulomb * tanh(y(4) / p.smooth) + p.viscous * y(4) + p.load;
  battery = y(1:3)' * (m.leg == 1 | m.leg == 4);
  d = [on .* (v - star - p.ohm * y(1:3) - e) / p.henry
       (t + p.cog(1) * sin(p.cog(2) * y(5) + p.cog(3)) - friction) / p.inertia
       p.pairs * y(4)
       battery; bus * battery; t; t ^ 2; friction * y(4); y(1:3) .^ 2];
end

% Slacks of 0.05 V and 0.02 A keep a lead from switching to and fro at its own root, which ode45 draws
% by a straight line through the ends of a step.
function g = guards(p, m, y)
  g = ones(9, 1);
  [bus, star, e] = electrics(p, m, y);
  for k = 1:3
    x = abs(mod(y(5) - p.centre(k) + pi, 2 * pi) - pi);
    g(k) = (2 * m.inside(k) - 1) * (pi / 2 - x) + p.hysteresis;
    beyond = abs(asin(sin(y(5) - (k - 1) * 2 * pi / 3))) - p.flank;
    g(3 + k) = (2 * m.flat(k) - 1) * beyond;
    switch m.leg(k)
      case 3
        g(6 + k) = 0.05 + min(bus + p.drop - star - e(k), star + e(k) + p.drop);
      case 4
        g(6 + k) = 0.02 - y(k);
      case 5
        g(6 + k) = 0.02 + y(k);
    end
  end
end

function [m, y] = settle(p, m, y)
  for k = find(m.leg == 3)'
    [bus, star, e] = electrics(p, m, y);
    if star + e(k) >= bus + p.drop
      m.leg(k) = 4;
    elseif star + e(k) <= -p.drop
      m.leg(k) = 5;
    end
  end
end

function [m, y] = release(m, y, k)
  rest = setdiff(find(m.leg != 3), k);
  y(rest) += y(k) / numel(rest);
  y(k) = 0;
  m.leg(k) = 3;
end

function [m, y] = commute(p, m, y)
  seen = m.inside(p.sensor);
  pair = p.table(4 * seen(1) + 2 * seen(2) + seen(3) + 1, :) + 1;
  high = p.phase(pair(1));
  low = p.phase(pair(2));
  for k = 1:3
    if k == high
      m.leg(k) = 1;
    elseif k == low
      m.leg(k) = 2;
    elseif abs(y(k)) > 1e-9
      m.leg(k) = 4 + (y(k) > 0);
    else
      [m, y] = release(m, y, k);
    end
  end
  [m, y] = settle(p, m, y);
end

function [m, y] = fire(p, m, y, which)
  k = mod(which - 1, 3) + 1;
  if which <= 3
    m.inside(k) = !m.inside(k);
    [m, y] = commute(p, m, y);
  elseif which <= 6
    m.flat(k) = !m.flat(k);
  elseif m.leg(k) == 3
    [bus, star, e] = electrics(p, m, y);
    m.leg(k) = 4 + (star + e(k) <= 0.5 * bus);
  else
    [m, y] = release(m, y, k);
  end
end

function [value, terminal, direction] = events(p, m, y)
  value = guards(p, m, y);
  terminal = ones(9, 1);
  direction = -ones(9, 1);
end

function [t, y, m, steps, count] = advance(p, m, t, y, stop, tolerance)
  steps = count = 0;
  while t < stop
    % A short first step: ode45 does not stop at an event inside the first one.
    o = odeset("RelTol", tolerance, "AbsTol", tolerance, "InitialStep", min(1e-6, (stop - t) / 2), ...
               "MaxStep", 1e-4, "Events", @(t, y) events(p, m, y), "Refine", 1);
    s = ode45(@(t, y) slope(p, m, y), [t, stop], y, o);
    times = s.x(:);
    steps += numel(times) - 1;
    t = times(end);
    y = s.y(:, end);
    if t < stop - 1e-12 && isempty(s.ie)
      error("ode45 gave up at %g s", t);
    end
    if isempty(s.ie)
      t = stop;
      break
    end
    count++;
    [m, y] = fire(p, m, y, s.ie(end));
    % Off the root, or rounding would find it again and again.
    middle = y + 0.5e-9 * slope(p, m, y);
    y += 1e-9 * slope(p, m, middle);
    t += 1e-9;
    % What fell through within that step, or by the switching itself; but not the corner (4 to 6) just
    % passed, whose root ode45 puts a little early: it draws a straight line through the step's ends.
    for round = 1:4
      for k = find(guards(p, m, y) < 0)'
        if k < 4 || k > 6 || (round == 1 && k != s.ie(end))
          [m, y] = fire(p, m, y, k);
        end
      end
    end
  end
end

warning("off", "all");
words = argv();
all = jsondecode(fileread(words{1}));
tolerance = str2double(words{2});
d = all.drive;
global rhs
for n = 1:numel(all.runs)
  run = all.runs(n);
  p = struct("ke", d.motor.ke, "emf", d.supply.emf_v, "battery_ohm", d.supply.resistance_ohm, ...
             "switch_ohm", d.controller.switch_resistance_ohm, "drop", d.controller.diode_drop_v, ...
             "ohm", d.motor.resistance_ohm * (1 + d.motor.copper_per_k * (d.motor.winding_c - 20)), ...
             "henry", d.motor.inductance_h, "pairs", d.motor.pole_pairs, ...
             "flank", pi / 2 - d.motor.flat_rad / 2, ...
             "cog", [d.motor.cogging_nm, d.motor.cogging_order, d.motor.cogging_phase_rad], ...
             "inertia", d.motor.rotor_inertia_kg_m2 + d.stand.wheel_inertia_kg_m2, ...
             "coulomb", d.stand.rotor.coulomb_nm + d.stand.wheel.coulomb_nm, ...
             "viscous", d.stand.rotor.viscous_nm_s_rad + d.stand.wheel.viscous_nm_s_rad, ...
             "load", d.stand.load_nm, "smooth", d.stand.smooth_rad_s, ...
             "hysteresis", d.sensors.hysteresis_rad, "table", d.controller.table, ...
             "centre", (0:2)' * 2 * pi / 3 + d.sensors.placement_rad(:), ...
             "sensor", run.sensor(:) + 1, "phase", run.phase(:) + 1);
  rhs = 0;
  begin = cputime();
  y = zeros(13, 1);
  y(5) = all.options.start_angle;
  m = struct("leg", [3; 3; 3], ...
             "inside", abs(mod(y(5) - p.centre + pi, 2 * pi) - pi) < pi / 2, ...
             "flat", abs(asin(sin(y(5) - (0:2)' * 2 * pi / 3))) > p.flank);
  [m, y] = commute(p, m, y);
  first = y;
  [t, y, m, s1, c1] = advance(p, m, 0, y, all.options.settle_s, tolerance);
  part = y;
  [t, y, m, s2, c2] = advance(p, m, t, y, all.options.seconds, tolerance);
  span = all.options.seconds - all.options.settle_s;
  q = (y - part) / span;
  f = struct("net_turn", y(5) - first(5), "speed", q(5) / p.pairs, "torque_mean", q(8), ...
             "torque_rms", sqrt(max(0, q(9) - q(8) ^ 2)), "battery_current", q(6), ...
             "battery_power", q(7), "friction_power", q(10), "phase_rms", sqrt(max(q(11:13))));
  out = struct("wiring", run.wiring, "figures", f, "ms", 1e3 * (cputime() - begin), "rhs", rhs, ...
               "steps", s1 + s2, "events", c1 + c2);
  printf("%s\n", jsonencode(out));
end
