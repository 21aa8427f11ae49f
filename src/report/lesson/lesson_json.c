/* The evening as JSON: see the header. */
#include "report/lesson/lesson_json.h"

#include "hubphase/base/text.h"
#include "hubphase/report/documents.h"
#include "model/lead.h"
#include "model/sensors.h"
#include "report/words/fault_words.h"

#include <math.h>

/* ---- scenes ---------------------------------------------------------------------------------- */

static json_t *lines(hp_json *json, const char line[][HP_SCENE_TEXT], int count)
{
    json_t *array = json_array();
    for (int k = 0; k < count; k++)
        hp_json_append(json, array, hp_json_text(line[k]));
    return array;
}

static void change(hp_json *json, json_t *object, const char *key, const char *value)
{
    hp_json_set(json, object, key, hp_json_text(value));
}

static void change_axis(hp_json *json, json_t *object, int phase, const char *value)
{
    char key[40];
    snprintf(key, sizeof key, "sensors.faults.%c", hp_phase_letter(phase));
    change(json, object, key, value);
}

/* What the scenario must state otherwise so that it is the machine of a run. */
static json_t *changes(hp_json *json, const hp_lesson *l, const hp_drive *drive)
{
    static const char *const fault[HP_SENSOR_FAULT_COUNT] = {"sound", "stuck_high", "stuck_low",
                                                             "inverted"};
    static const char *const lead[HP_PHASE_COUNT] = {"U", "V", "W"};
    const hp_drive *stated = &l->stated;
    const char *open = "none";
    bool other_open = false;
    json_t *object = json_object();
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (drive->sensors.fault[k] != stated->sensors.fault[k])
            change_axis(json, object, k, fault[drive->sensors.fault[k]]);
        other_open = other_open || drive->motor.lead_open[k] != stated->motor.lead_open[k];
        open = drive->motor.lead_open[k] ? lead[k] : open;
    }
    if (other_open)
        change(json, object, "motor.open_lead", open);
    if (drive->sensors.spacing_60 != stated->sensors.spacing_60)
        change(json, object, "sensors.spacing_deg", drive->sensors.spacing_60 ? "60" : "120");
    if (drive->sensors.no_supply != stated->sensors.no_supply)
        change(json, object, "sensors.powered", drive->sensors.no_supply ? "no" : "yes");
    return object;
}

static json_t *runs(hp_json *json, const hp_lesson *l, const hp_scene_words *words)
{
    json_t *array = json_array();
    for (int k = 0; k < words->runs; k++) {
        const hp_scene_run *run = &words->run[k];
        bool faulty = run->fault >= 0;
        const hp_drive *drive = faulty ? &l->fault[run->fault].drive : &l->drive;
        const hp_judgement *judged =
            faulty ? &l->fault[run->fault].judgement : &l->survey.judgement[run->number - 1];
        json_t *object = json_object();
        hp_json_set(json, object, "number", json_integer(run->number));
        hp_json_set(json, object, "title", hp_json_text(run->title));
        hp_json_set(json, object, "part", hp_json_text(run->beginning ? "start" : "end"));
        hp_json_set(json, object, "start_deg", hp_json_number(run->start / HP_DEG));
        hp_json_set(json, object, "changes", changes(json, l, drive));
        hp_json_set(json, object, "backward", json_boolean(run->backward));
        hp_json_set(json, object, "unnamed", json_boolean(run->unnamed));
        hp_json_set(json, object, "battery_current_a",
                    hp_json_number(judged->mean.battery_current));
        hp_json_append(json, array, object);
    }
    return array;
}

static json_t *choices(hp_json *json, const hp_scene_words *words)
{
    json_t *array = json_array();
    for (int k = 0; k < words->choices; k++) {
        json_t *object = json_object();
        hp_json_set(json, object, "text", hp_json_text(words->choice[k].text));
        hp_json_set(json, object, "right", json_boolean(words->choice[k].right));
        hp_json_append(json, array, object);
    }
    return array;
}

static json_t *scene_object(hp_json *json, const hp_scene *scene, const hp_scene_case *c)
{
    hp_scene_words *words = malloc(sizeof *words);
    json_t *object = json_object();
    if (!words || !object) {
        free(words);
        json->failed = true;
        return object;
    }
    hp_scene_tell(scene, c, words);
    hp_json_set(json, object, "name", hp_json_text(scene->name));
    hp_json_set(json, object, "title", hp_json_text(scene->title));
    hp_json_set(json, object, "view", hp_json_text(hp_scene_view_name(scene->view)));
    hp_json_set(json, object, "left_out",
                words->left_out[0] ? hp_json_text(words->left_out) : json_null());
    hp_json_set(json, object, "question", hp_json_text(words->question));
    hp_json_set(json, object, "choices", choices(json, words));
    hp_json_set(json, object, "look", lines(json, words->look, words->looks));
    hp_json_set(json, object, "lines", lines(json, words->line, words->lines));
    hp_json_set(json, object, "usual", hp_json_text(words->usual));
    hp_json_set(json, object, "instead", hp_json_text(words->instead));
    hp_json_set(json, object, "runs", runs(json, c->lesson, words));
    hp_json_set(json, object, "held", json_boolean(words->held));
    free(words);
    return object;
}

/* ---- the 36, the turn by hand, tries --------------------------------------------------------- */

static json_t *wirings(hp_json *json, const hp_lesson *l)
{
    json_t *array = json_array();
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        const hp_judgement *j = &l->survey.judgement[n - 1];
        const hp_lesson_place *place = &l->place[n - 1];
        char text[HP_SCENE_TEXT];
        json_t *object = json_object();
        hp_json_set(json, object, "number", json_integer(n));
        hp_json_set(json, object, "verdict", hp_json_text(hp_verdict_name(j->verdict)));
        hp_json_set(json, object, "direction", hp_json_text(hp_direction_name(j->direction)));
        hp_json_set(json, object, "kind", hp_json_text(hp_lesson_kind_name(place->kind)));
        hp_json_set(json, object, "sensors_turned", json_boolean(place->sensors_turned));
        hp_json_set(json, object, "phases_turned", json_boolean(place->phases_turned));
        hp_json_set(json, object, "shift", json_integer(place->shift));
        hp_json_set(json, object, "group", json_integer(place->group + 1));
        hp_json_set(json, object, "words", hp_json_text(hp_scene_outcome(l, n, text, sizeof text)));
        hp_json_append(json, array, object);
    }
    return array;
}

/* The levels of the motor's own sensors U V W behind a code. */
static json_t *levels(hp_json *json, const hp_wiring *wiring, int code)
{
    int level[HP_PHASE_COUNT];
    json_t *array = json_array();
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        level[wiring->sensor[j]] = code >> (HP_PHASE_COUNT - 1 - j) & 1;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_json_append(json, array, json_integer(level[k]));
    return array;
}

static json_t *hand(hp_json *json, const hp_lesson *l)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    hp_wiring wiring = hp_wiring_from_number(l->correct);
    int count = hp_drive_sectors(&l->drive, &wiring, sector);
    json_t *array = json_array();
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k];
        json_t *object = json_object();
        hp_json_set(json, object, "from_deg", hp_json_number(s->from / HP_DEG));
        hp_json_set(json, object, "to_deg", hp_json_number(s->to / HP_DEG));
        hp_json_set(json, object, "code", json_integer(s->code));
        hp_json_set(json, object, "sensors", levels(json, &wiring, s->code));
        hp_json_set(json, object, "high", json_integer(s->high));
        hp_json_set(json, object, "low", json_integer(s->low));
        hp_json_append(json, array, object);
    }
    return array;
}

/* Where the motor's own sensors U V W stand: what `hand` tells of each follows from it. */
static json_t *sensor_places(hp_json *json, const hp_lesson *l)
{
    json_t *array = json_array();
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_json_append(json, array, hp_json_number(hp_sensor_place(&l->drive.sensors, k) / HP_DEG));
    return array;
}

/* A field that is held, and the pull on a magnet 0, 1, ... 359 degrees behind it. */
static json_t *held(hp_json *json, const hp_lesson *l)
{
    json_t *object = json_object(), *pull = json_array();
    for (int degrees = 0; degrees < 360; degrees++)
        hp_json_append(json, pull, hp_json_number(hp_scene_pull_at(l, degrees * HP_DEG)));
    hp_json_set(json, object, "high", json_integer(HP_V));
    hp_json_set(json, object, "low", json_integer(HP_W));
    hp_json_set(json, object, "field_deg", hp_json_number(hp_scene_held_field() / HP_DEG));
    hp_json_set(json, object, "pull", pull);
    return object;
}

static json_t *tries(hp_json *json, const hp_lesson *l)
{
    json_t *array = json_array();
    for (int k = 0; k < l->tries_count; k++) {
        char text[HP_SCENE_TEXT];
        json_t *object = json_object();
        hp_json_set(json, object, "words",
                    hp_json_text(hp_scene_readings(l->tries[k].readings, text, sizeof text)));
        hp_json_set(json, object, "mean", hp_json_number(l->tries[k].mean));
        hp_json_set(json, object, "most", json_integer(l->tries[k].most));
        hp_json_append(json, array, object);
    }
    return array;
}

/* What is faulty in the machine as it stands; null where nothing is. */
static json_t *mended(const hp_scene_case *c)
{
    char text[HP_FAULT_WORDS + 80];
    const hp_drive *stated = &c->lesson->stated;
    if (!c->lesson->mended)
        return json_null();
    hp_fault_words(stated, c->labels, text, sizeof text);
    hp_phrase p = hp_phrase_resume(text, sizeof text);
    if (stated->sensors.spacing_60 != c->lesson->drive.sensors.spacing_60)
        hp_phrase_add(&p, "%sits Hall sensors are %d-degree ones, its controller is for %d degrees",
                      text[0] ? "; " : "", stated->sensors.spacing_60 ? 60 : 120,
                      stated->sensors.spacing_60 ? 120 : 60);
    return hp_json_text(text);
}

void hp_lesson_json_set(hp_json *json, json_t *object, const hp_scene_case *c)
{
    const hp_lesson *l = c->lesson;
    json_t *scenes = json_array();
    for (int k = 0; k < hp_scene_count; k++)
        hp_json_append(json, scenes, scene_object(json, hp_scenes[k], c));
    hp_json_set(json, object, "mended", mended(c));
    hp_json_set(json, object, "scenes", scenes);
    hp_json_set(json, object, "wirings", wirings(json, l));
    hp_json_set(json, object, "hand", hand(json, l));
    hp_json_set(json, object, "sensor_deg", sensor_places(json, l));
    hp_json_set(json, object, "held", held(json, l));
    hp_json_set(json, object, "at_random", hp_json_number(l->tries_at_random));
    hp_json_set(json, object, "tries", tries(json, l));
    hp_json_set(json, object, "fault", json_integer(c->fault));
    hp_json_set(json, object, "faults", json_integer(HP_LESSON_FAULT_COUNT));
}

char *hp_evening_text(const hp_lesson *lesson, const hp_scenario *scenario)
{
    const hp_scene_case c = {.lesson = lesson,
                             .labels = &scenario->labels,
                             .costs = &scenario->bench.plan.costs,
                             .fault = (int)hp_lesson_usual_fault(lesson)};
    hp_json json = {.failed = false};
    json_t *object = json_object();
    hp_lesson_json_set(&json, object, &c);
    char *text = json.failed ? NULL : hp_json_compact(object);
    json_decref(object);
    return text;
}
