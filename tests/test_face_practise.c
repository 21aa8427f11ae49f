/*
 * Practice through the face of the library: an evening by requests, taken up again where it was
 * left, and what is wrong with bad requests.
 */
#include "check.h"
#include "face_calls.h"

#include "hubphase.h"

#define TIME "2026-11-29T20:00:00+01:00"

/* It must fail with this key's problem, and say this. */
static void bad(hp_web *web, const char *request, const char *key, const char *said)
{
    json_t *answer = call(web, request), *problem;
    bool found = !key && strstr(text_of(answer, "summary"), said);
    size_t k;
    json_array_foreach(json_object_get(answer, "problems"), k, problem) found =
        found || (key && strcmp(text_of(problem, "key"), key) == 0 &&
                  strstr(text_of(problem, "text"), said));
    check_true(json_is_false(json_object_get(answer, "ok")) && found, "%s: %s", request,
               text_of(answer, "summary"));
    json_decref(answer);
}

static int count_of(const json_t *object, const char *key)
{
    return (int)json_array_size(json_object_get(object, key));
}

static int steps_of(const json_t *answer, const char *path)
{
    return count_of(json_object_get(answer, path), "steps");
}

static void an_evening_goes_by_requests(void **state)
{
    hp_web *web = *state;
    json_t *a = good(web, "{\"do\":\"practise\"}");
    check_int(count_of(a, "levels"), HP_PRACTICE_LEVELS);
    json_decref(a);
    a = good(web, "{\"do\":\"practise\",\"level\":\"sound\",\"seed\":8,\"time\":\"" TIME "\"}");
    check_int(json_integer_value(json_object_get(a, "seed")), 8);
    check_int(count_of(a, "choices"), 10);
    check_int(count_of(a, "feeds"), HP_PRACTICE_FEEDS);
    check_int(count_of(a, "faults"), HP_PRACTICE_FAULTS - 1);
    assert_true(json_is_null(json_object_get(a, "table"))); /* the shipped one */
    json_decref(a);
    a = good(web, "{\"do\":\"practise_take\",\"kind\":\"hand_turn\",\"time\":\"" TIME "\"}");
    check_int(steps_of(a, "path"), 1);
    assert_non_null(strstr(text_of(a, "log"), "time: " TIME));
    assert_non_null(strstr(text_of(a, "told"), "6 groups of three equals"));
    json_decref(a);
    a = good(web, "{\"do\":\"practise_take\",\"kind\":\"trial\",\"wiring\":\"3\",\"feed\":"
                  "\"battery\"}");
    const json_t *step = json_array_get(json_object_get(json_object_get(a, "path"), "steps"), 1);
    check_int(count_of(step, "risks"), 3);
    json_decref(a);
    a = good(web, "{\"do\":\"practise_hint\"}");
    assert_true(text_of(a, "title")[0] && text_of(a, "reason")[0]);
    check_int(json_integer_value(json_object_get(json_object_get(a, "path"), "hints")), 1);
    json_decref(a);
    json_decref(good(web, "{\"do\":\"practise_drop\",\"number\":1}"));
    a = good(web, "{\"do\":\"practise_end\",\"claim\":\"wiring\",\"wiring\":\"14\"}");
    assert_string_equal(text_of(json_object_get(a, "learner"), "end"), "right");
    assert_string_equal(text_of(json_object_get(a, "advice"), "end"), "right");
    check_int(steps_of(a, "learner"), 2);
    check_true(steps_of(a, "advice") >= 5, "the advice took %d steps", steps_of(a, "advice"));
    assert_non_null(strstr(text_of(a, "truth"), "12, 14 and 33"));
    json_decref(a);
    bad(web, "{\"do\":\"practise_take\",\"kind\":\"pins\"}", NULL, "has ended");
}

static void it_is_taken_up_where_it_was_left(void **state)
{
    hp_web *web = *state, *other = hp_web_create(NULL, NULL);
    static const char *const step[] = {
        "{\"do\":\"practise_take\",\"kind\":\"park\",\"lead\":\"blue\",\"time\":\"" TIME "\"}",
        "{\"do\":\"practise_take\",\"kind\":\"pins\",\"time\":\"" TIME "\"}",
        "{\"do\":\"practise_drop\",\"number\":3,\"time\":\"" TIME "\"}",
    };
    json_t *last = NULL;
    json_decref(
        good(web, "{\"do\":\"practise\",\"level\":\"slip\",\"seed\":2,\"time\":\"" TIME "\"}"));
    for (int k = 0; k < 3; k++) {
        json_decref(last);
        last = good(web, step[k]);
    }
    char request[1200];
    snprintf(request, sizeof request,
             "{\"do\":\"practise\",\"level\":\"slip\",\"seed\":2,\"time\":\"" TIME
             "\",\"steps\":[%s,%s,%s]}",
             step[0], step[1], step[2]);
    json_t *again = good(other, request);
    assert_string_equal(text_of(last, "log"), text_of(again, "log"));
    assert_true(json_equal(json_object_get(last, "path"), json_object_get(again, "path")));
    json_decref(last);
    json_decref(again);
    hp_web_free(other);
}

static void bad_requests_are_told_and_change_nothing(void **state)
{
    hp_web *web = *state;
    bad(web, "{\"do\":\"practise_take\",\"kind\":\"pins\"}", "practise", "No practice is begun");
    bad(web, "{\"do\":\"practise_end\",\"claim\":\"nothing\"}", "practise", "No practice");
    bad(web, "{\"do\":\"practise\",\"level\":\"easy\"}", "level", "must be sound");
    bad(web, "{\"do\":\"practise\",\"level\":\"sound\",\"seed\":0}", "seed", "from 1");
    bad(web, "{\"do\":\"practise\",\"level\":\"sound\",\"time\":\"noon\"}", "time", "offset");
    bad(web, "{\"do\":\"practise\",\"level\":\"sound\",\"scenario\":\"x\"}", NULL, "1 problem");
    bad(web, "{\"do\":\"practise\",\"level\":\"sound\",\"steps\":1}", "steps", "list");
    json_decref(good(web, "{\"do\":\"practise\",\"level\":\"sound\",\"seed\":3}"));
    bad(web, "{\"do\":\"practise\",\"level\":\"sound\",\"steps\":[{\"kind\":\"none\"}]}", "kind",
        "no kind");
    bad(web, "{\"do\":\"practise_take\",\"kind\":\"park\"}", "lead", "missing");
    bad(web, "{\"do\":\"practise_take\",\"kind\":\"park\",\"lead\":\"red\"}", "lead", "yellow");
    bad(web, "{\"do\":\"practise_take\",\"kind\":\"mend\"}", NULL, "cannot be taken");
    bad(web, "{\"do\":\"practise_take\",\"kind\":\"trial\",\"wiring\":\"37\",\"feed\":\"full\"}",
        "wiring", "must be 1 to 36");
    bad(web, "{\"do\":\"practise_take\",\"kind\":\"trial\",\"wiring\":\"3\",\"feed\":\"sun\"}",
        "feed", "must be limited");
    bad(web, "{\"do\":\"practise_drop\",\"number\":1}", NULL, "no entry 1");
    bad(web, "{\"do\":\"practise_end\",\"claim\":\"luck\"}", "claim", "must be wiring");
    bad(web, "{\"do\":\"practise_end\",\"claim\":\"fault\",\"fault\":\"luck\"}", "fault", "none");
    bad(web, "{\"do\":\"practise_end\",\"claim\":\"fault\",\"fault\":\"hall_stuck\"}", "lead",
        "missing");
    bad(web, "{\"do\":\"practise_end\",\"claim\":\"entry\",\"number\":1}", NULL, "was empty");
    json_t *a = good(web, "{\"do\":\"practise_take\",\"kind\":\"pins\"}");
    check_int(steps_of(a, "path"), 1);
    json_decref(a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(an_evening_goes_by_requests, set_up, tear_down),
        cmocka_unit_test_setup_teardown(it_is_taken_up_where_it_was_left, set_up, tear_down),
        cmocka_unit_test_setup_teardown(bad_requests_are_told_and_change_nothing, set_up,
                                        tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
