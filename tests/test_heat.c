/* Heat: closed forms, balance of energy, an integrator that shares nothing with them. */
#include "field_limits.h"

#include "base/random.h"
#include "model/heat.h"

/* The equations of the header, in small steps of Runge and Kutta's classic fourth order. */
static hp_heat_state rate_of(const hp_heat_params *p, const hp_heat_loss *loss, hp_heat_state s)
{
    double made = loss->copper_w * (1.0 + loss->copper_per_k * (s.copper_c - 20.0));
    double passed = (s.copper_c - s.hub_c) / p->copper_hub_k_w;
    double given = (s.hub_c - p->air_c) / p->hub_air_k_w;
    return (hp_heat_state){(made - passed) / p->copper_j_per_k,
                           (loss->hub_w + passed - given) / p->hub_j_per_k};
}

static hp_heat_state moved(hp_heat_state s, hp_heat_state rate, double t)
{
    return (hp_heat_state){s.copper_c + t * rate.copper_c, s.hub_c + t * rate.hub_c};
}

static hp_heat_state stepped(const hp_heat_params *p, const hp_heat_loss *loss, hp_heat_state s,
                             double h)
{
    hp_heat_state a = rate_of(p, loss, s), b = rate_of(p, loss, moved(s, a, 0.5 * h));
    hp_heat_state c = rate_of(p, loss, moved(s, b, 0.5 * h)), d = rate_of(p, loss, moved(s, c, h));
    hp_heat_state mean = {(a.copper_c + 2.0 * b.copper_c + 2.0 * c.copper_c + d.copper_c) / 6.0,
                          (a.hub_c + 2.0 * b.hub_c + 2.0 * c.hub_c + d.hub_c) / 6.0};
    return moved(s, mean, h);
}

static hp_heat_params drawn_hub(hp_random *random)
{
    return (hp_heat_params){
        .copper_j_per_k = hp_random_between(random, 50.0, 900.0),
        .hub_j_per_k = hp_random_between(random, 300.0, 5000.0),
        .copper_hub_k_w = hp_random_between(random, 0.05, 0.6),
        .hub_air_k_w = hp_random_between(random, 0.2, 2.0),
        .air_c = hp_random_between(random, -10.0, 40.0),
    };
}

static hp_heat_loss drawn_loss(hp_random *random)
{
    return (hp_heat_loss){.copper_w = hp_random_between(random, 0.0, 900.0),
                          .copper_per_k = hp_random_between(random, 0.0, 0.005),
                          .hub_w = hp_random_between(random, 0.0, 100.0)};
}

static void any_start_goes_as_an_integrator_takes_it(void **state)
{
    (void)state;
    hp_random random = hp_random_init(16, 1);
    for (int k = 0; k < 200; k++) {
        hp_heat_params hub = drawn_hub(&random);
        hp_heat_loss loss = drawn_loss(&random);
        hp_heat_state from = {hp_random_between(&random, -10.0, 150.0),
                              hp_random_between(&random, -10.0, 90.0)},
                      by_steps = from;
        double seconds = hp_random_between(&random, 1.0, 2000.0);
        int steps = 4000;
        for (int n = 0; n < steps; n++)
            by_steps = stepped(&hub, &loss, by_steps, seconds / steps);
        hp_heat_state closed = hp_heat_after(&hub, &loss, from, seconds);
        check_close(closed.copper_c, by_steps.copper_c, 1e-6 * (1.0 + fabs(by_steps.copper_c)),
                    "fourth order: half a second over a second or more, to the fourth power");
        check_close(closed.hub_c, by_steps.hub_c, 1e-6 * (1.0 + fabs(by_steps.hub_c)), "the same");
    }
}

/* A hub too large to warm: the copper alone, a textbook's exponential. */
static void copper_on_a_huge_hub_is_one_exponential(void **state)
{
    (void)state;
    hp_heat_params hub = hp_heat_params_default();
    hub.hub_j_per_k = 1e6 * 1e6; /* beyond what the check allows, on purpose */
    hp_heat_loss loss = {.copper_w = 200.0};
    double tau = hub.copper_j_per_k * hub.copper_hub_k_w, end = 200.0 * hub.copper_hub_k_w;
    for (double t = 0.1; t < 1000.0; t *= 2.0)
        check_close(hp_heat_after(&hub, &loss, hp_heat_cold(&hub), t).copper_c,
                    hub.air_c + end * (1.0 - exp(-t / tau)), 1e-6, "what the hub warms meanwhile");
}

/* With copper that does not change, what was made is stored or given to the air. */
static void heat_is_kept(void **state)
{
    (void)state;
    hp_heat_params hub = hp_heat_params_default();
    hp_heat_loss loss = {.copper_w = 150.0, .hub_w = 20.0};
    hp_heat_state s = hp_heat_cold(&hub);
    double given = 0.0, step = 0.5, seconds = 1800.0;
    for (int k = 0; k < (int)(seconds / step); k++) {
        hp_heat_state middle = hp_heat_after(&hub, &loss, s, 0.5 * step);
        hp_heat_state next = hp_heat_after(&hub, &loss, s, step);
        given += step / 6.0 * (s.hub_c + 4.0 * middle.hub_c + next.hub_c - 6.0 * hub.air_c) /
                 hub.hub_air_k_w;
        s = next;
    }
    double stored =
        hub.copper_j_per_k * (s.copper_c - hub.air_c) + hub.hub_j_per_k * (s.hub_c - hub.air_c);
    check_relative(stored + given, (loss.copper_w + loss.hub_w) * seconds, 1e-9,
                   "Simpson's rule, a half second over minutes");
}

static void steady_temperatures_stay(void **state)
{
    (void)state;
    hp_random random = hp_random_init(16, 2);
    int steady = 0;
    for (int k = 0; k < 300; k++) {
        hp_heat_params hub = drawn_hub(&random);
        hp_heat_loss loss = drawn_loss(&random);
        hp_heat_state end, later;
        bool rests = hp_heat_steady(&hub, &loss, &end);
        /* Ohm's law for heat: a winding runs away when each kelvin makes as much heat as it takes
         * away (derived). */
        double both = hub.copper_hub_k_w + hub.hub_air_k_w;
        check_int(rests, loss.copper_w * loss.copper_per_k * both < 1.0);
        if (!rests)
            continue;
        steady++;
        double copper_w = loss.copper_w * (1.0 + loss.copper_per_k * (end.copper_c - 20.0));
        check_close(end.hub_c - hub.air_c, hub.hub_air_k_w * (copper_w + loss.hub_w),
                    1e-9 * (1.0 + fabs(end.hub_c)), "rounding");
        check_close(end.copper_c - end.hub_c, hub.copper_hub_k_w * copper_w,
                    1e-9 * (1.0 + fabs(end.copper_c)), "rounding");
        later = hp_heat_after(&hub, &loss, end, 5000.0);
        check_close(later.copper_c, end.copper_c, 1e-8 * (1.0 + fabs(end.copper_c)), "rounding");
    }
    check_true(steady > 60 && steady < 290, "%d of 300 come to rest", steady);
}

/* The moment is the first: nothing before it is as hot, and it is as hot then. */
static void the_time_to_a_temperature_is_the_first(void **state)
{
    (void)state;
    hp_random random = hp_random_init(16, 3);
    int reached = 0, never = 0;
    for (int k = 0; k < 400; k++) {
        hp_heat_params hub = drawn_hub(&random);
        hp_heat_loss loss = drawn_loss(&random);
        loss.copper_w *= k % 2 ? 0.1 : 1.0; /* small ones never get there */
        hp_heat_state from = {hp_random_between(&random, 0.0, 95.0),
                              hp_random_between(&random, 0.0, 120.0)};
        double t = hp_heat_time_to(&hub, &loss, from, 100.0);
        double seen = isfinite(t) ? t : 50000.0, hottest = from.copper_c;
        for (int n = 1; n < 2000; n++) {
            double copper = hp_heat_after(&hub, &loss, from, seen * n / 2000.0).copper_c;
            hottest = fmax(hottest, copper);
        }
        check_true(hottest < 100.0, "%g C before %g s", hottest, t);
        if (isfinite(t)) {
            reached++;
            check_close(hp_heat_after(&hub, &loss, from, t).copper_c, 100.0, 1e-6, "bisection");
        } else {
            never++;
        }
    }
    check_true(reached > 50 && never > 50, "%d reached, %d never", reached, never);
    hp_heat_params hub = hp_heat_params_default();
    check_close(hp_heat_time_to(&hub, &(hp_heat_loss){0}, (hp_heat_state){101.0, 20.0}, 100.0), 0.0,
                0.0, "hot already");
}

/* A hot hub warms cold copper, which then cools with it: up past the mark and down again. */
static void a_hot_hub_takes_the_copper_past_the_mark_for_a_while(void **state)
{
    (void)state;
    hp_heat_params hub = hp_heat_params_default();
    hp_heat_state from = {20.0, 90.0};
    double t = hp_heat_time_to(&hub, &(hp_heat_loss){0}, from, 75.0);
    check_true(t > 1.0 && t < 300.0, "%g s", t);
    check_true(hp_heat_after(&hub, &(hp_heat_loss){0}, from, 6000.0).copper_c < 30.0, "cool later");
}

static void the_lasting_loss_ends_at_the_limit(void **state)
{
    (void)state;
    hp_random random = hp_random_init(16, 4);
    for (int k = 0; k < 100; k++) {
        hp_heat_params hub = drawn_hub(&random);
        double hub_w = hp_random_between(&random, 0.0, 20.0), limit = 100.0;
        double watts = hp_heat_lasting_w(&hub, 0.00393, hub_w, limit);
        hp_heat_loss loss = {watts, 0.00393, hub_w};
        hp_heat_state end;
        check_true(watts > 0.0 && hp_heat_steady(&hub, &loss, &end), "rests at %g W", watts);
        check_relative(end.copper_c, limit, 1e-9, "rounding");
    }
    hp_heat_params hub = hp_heat_params_default();
    check_close(hp_heat_lasting_w(&hub, 0.00393, 1000.0, 100.0), 0.0, 0.0, "the hub alone is hot");
}

static void a_run_away_stays_a_number(void **state)
{
    (void)state;
    hp_heat_params hub = hp_heat_params_default();
    hp_heat_loss loss = {5000.0, 0.00393, 0.0};
    hp_heat_state end = {1.0, 2.0};
    check_true(!hp_heat_steady(&hub, &loss, &end), "5 kW have no rest");
    check_close(end.copper_c, 1.0, 0.0, "left alone");
    end = hp_heat_after(&hub, &loss, hp_heat_cold(&hub), 1e6);
    check_true(isfinite(end.copper_c) && end.copper_c > 1e6, "%g C", end.copper_c);
    check_true(isfinite(hp_heat_time_to(&hub, &loss, hp_heat_cold(&hub), 100.0)), "soon hot");
}

static hp_result check_heat(const void *params, hp_error *err)
{
    return hp_heat_params_check(params, err);
}

static void limits_are_kept(void **state)
{
    (void)state;
    hp_heat_params heat = hp_heat_params_default();
    check_accepted(hp_heat_params_check(&heat, &refusal));
    const field_limit field[] = {
        {"thermal.copper_j_per_k", offsetof(hp_heat_params, copper_j_per_k), 1e-9, 1e6, 0.0, 1.1e6},
        {"thermal.hub_j_per_k", offsetof(hp_heat_params, hub_j_per_k), 1e-9, 1e6, 0.0, 1.1e6},
        {"thermal.copper_to_hub_k_per_w", offsetof(hp_heat_params, copper_hub_k_w), 1e-9, 1e3, 0.0,
         1001.0},
        {"thermal.hub_to_air_k_per_w", offsetof(hp_heat_params, hub_air_k_w), 1e-9, 1e3, 0.0,
         1001.0},
        {"thermal.air_c", offsetof(hp_heat_params, air_c), -40.0, 60.0, -40.1, 60.1},
    };
    check_field_limits(&heat, sizeof heat, check_heat, field, sizeof field / sizeof field[0]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_start_goes_as_an_integrator_takes_it),
        cmocka_unit_test(copper_on_a_huge_hub_is_one_exponential),
        cmocka_unit_test(heat_is_kept),
        cmocka_unit_test(steady_temperatures_stay),
        cmocka_unit_test(the_time_to_a_temperature_is_the_first),
        cmocka_unit_test(a_hot_hub_takes_the_copper_past_the_mark_for_a_while),
        cmocka_unit_test(the_lasting_loss_ends_at_the_limit),
        cmocka_unit_test(a_run_away_stays_a_number),
        cmocka_unit_test(limits_are_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
