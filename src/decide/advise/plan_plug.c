/*
 * The Hall plug, before the work ends: a controller that runs without Hall sensors runs smoothly
 * with the Hall leads in any order, so that runs alone make any of them correct. It is no
 * hypothesis: whether the answer would change the end is reckoned from the log with that answer,
 * and only then is it asked for, once.
 */
#include "decide/advise/plan_parts.h"

/* chosen: so sure of a wiring without what smooth runs say of the Hall leads that readings have
 * told their order, and the question changes nothing. */
#define TOLD_BY_READINGS 0.9
/* chosen: likelier good than not. */
#define SOUND 0.5

/* Whether an end names a wiring, and nothing that stands against it comes first. */
static bool names_wiring(const hp_advice *advice)
{
    bool ends = advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_PROBABLY;
    bool open = advice->why == HP_WHY_CHECK_FAILED || advice->why == HP_WHY_CONTRARY ||
                advice->why == HP_WHY_RUN_DOUBTED;
    return ends && !open && advice->number > 0 && advice->learnt == 0;
}

/* Whether the final check is still to be made. */
static bool check_comes(const hp_advice *advice)
{
    return advice->kind == HP_ADVICE_DONE
               ? !advice->checked
               : (advice->why == HP_WHY_UNMETERED || advice->why == HP_WHY_WORDS_ALONE) &&
                     advice->felt == 0;
}

/* What the log would say if the controller should run without Hall sensors: how likely a wiring is
 * correct, and how likely every part is good. */
static hp_result reckon_without(const hp_belief *b, int number, double *right, double *sound,
                                hp_error *err)
{
    double all[HP_WIRING_COUNT + 1], trouble[HP_TROUBLE_COUNT];
    hp_belief other;
    hp_entry turned = hp_entry_make(&hp_reading_hall_plug, 0);
    turned.hall_plug.turns = HP_TELL_YES;
    hp_result result = hp_belief_copy(b, &other, err);
    if (result != HP_OK)
        return result;
    result = hp_belief_add(&other, &turned, err);
    hp_belief_wirings(&other, all);
    hp_belief_troubles(&other, trouble);
    *right = all[number];
    *sound = trouble[HP_TROUBLE_SOUND];
    hp_belief_free(&other);
    return result;
}

hp_result hp_plan_heed_plug(const hp_planner *p, const hp_belief *b, hp_advice *advice,
                            hp_error *err)
{
    const hp_reading *plug = &hp_reading_hall_plug;
    double right = 0.0, sound = 0.0;
    if (!names_wiring(advice) || advice->unsensed != HP_TELL_UNSAID)
        return HP_OK;
    hp_result result = reckon_without(b, advice->number, &right, &sound, err);
    if (result != HP_OK || right >= TOLD_BY_READINGS)
        return result;
    if (!p->params.powered || !(p->params.allowed & hp_allow(plug))) {
        advice->plug = HP_PLUG_UNTRIED;
        return HP_OK;
    }
    /* Nobody pulls a plug at a wiring that fails at full throttle; but a part that readings call
     * broken, and only smooth runs do not, comes before a run at full throttle. */
    if (check_comes(advice) && sound >= SOUND) {
        advice->plug = HP_PLUG_OWED;
        return HP_OK;
    }
    hp_plan_ask_instead(advice, plug);
    advice->why = HP_WHY_BEFORE_END;
    return HP_OK;
}
