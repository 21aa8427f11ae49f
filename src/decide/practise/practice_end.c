/* Right or wrong at the end: see the header. */
#include "decide/practise/hidden.h"

hp_practice_truth hp_practice_tell(const hp_practice *p)
{
    hp_practice_truth truth = {.fault = p->fault,
                               .lead = hp_practice_fault_side(p->fault) >= 0 ? p->lead : -1,
                               .high = p->high,
                               .cause = p->cause};
    hp_right_wirings(hp_relation_index(p->sensor_axis, p->phase_axis), p->table, truth.right);
    return truth;
}

static hp_practice_end judge_wiring(const hp_practice *p, const hp_practice_look *before,
                                    bool dropped, int number)
{
    const hp_practice_truth truth = hp_practice_tell(p);
    bool right = false;
    for (int k = 0; k < 3; k++)
        right = right || truth.right[k] == number;
    if (!right)
        return HP_END_WRONG;
    if (hp_practice_present(p, before) != HP_PRACTICE_NO_FAULT)
        return HP_END_MISSED_FAULT;
    return p->slipped >= 0 && !dropped ? HP_END_MISSED_SLIP : HP_END_RIGHT;
}

hp_practice_end hp_practice_judge(const hp_practice *p, const hp_practice_look *before,
                                  bool dropped, const hp_practice_answer *answer)
{
    switch (answer->claim) {
    case HP_CLAIM_WIRING: return judge_wiring(p, before, dropped, answer->number);
    case HP_CLAIM_SLIP:
        return p->slipped >= 0 && answer->number == p->slipped ? HP_END_RIGHT : HP_END_WRONG;
    case HP_CLAIM_FAULT:
        if (p->fault == HP_PRACTICE_NO_FAULT || answer->fault != p->fault)
            return HP_END_WRONG;
        return hp_practice_fault_side(p->fault) < 0 || answer->lead == p->lead ? HP_END_RIGHT
                                                                               : HP_END_OTHER_LEAD;
    case HP_CLAIM_NOTHING: break;
    }
    return HP_END_WRONG;
}

/* ---- what an advice says at its end ---------------------------------------------------------- */

static hp_practice_answer the_danger(const hp_danger *danger)
{
    hp_practice_answer answer = {.claim = HP_CLAIM_NOTHING};
    for (int k = 0; k < HP_PRACTICE_FAULTS; k++)
        if (danger && hp_practice_fault_danger((hp_practice_fault)k) == danger)
            answer = (hp_practice_answer){.claim = HP_CLAIM_FAULT, .fault = (hp_practice_fault)k};
    return answer;
}

static hp_practice_answer the_trouble(int trouble)
{
    int misfit;
    hp_fault fault;
    if (trouble <= 0)
        return (hp_practice_answer){.claim = HP_CLAIM_NOTHING};
    hp_trouble_get(trouble, &misfit, &fault);
    if (fault.kind == HP_FAULT_NONE && misfit >= HP_MISFIT_INPUT)
        return (hp_practice_answer){.claim = HP_CLAIM_NOTHING};
    if (fault.kind == HP_FAULT_NONE)
        return (hp_practice_answer){
            .claim = HP_CLAIM_FAULT, .fault = HP_PRACTICE_HALL_INVERTED, .lead = misfit};
    for (int k = 0; k < HP_PRACTICE_FAULTS; k++)
        for (int high = 0; high < 2; high++)
            if (hp_practice_fault_kind((hp_practice_fault)k, high) == fault.kind)
                return (hp_practice_answer){
                    .claim = HP_CLAIM_FAULT, .fault = (hp_practice_fault)k, .lead = fault.which};
    return (hp_practice_answer){.claim = HP_CLAIM_NOTHING};
}

hp_practice_answer hp_practice_advised(const hp_practice *p, const hp_advice *advice,
                                       const int *given, int givens)
{
    if (p->level == HP_PRACTICE_SLIP && advice->contradiction.found)
        for (int k = 0; k < givens; k++)
            if (given[k] == advice->contradiction.slipped)
                return (hp_practice_answer){.claim = HP_CLAIM_SLIP, .number = k};
    switch (advice->kind) {
    case HP_ADVICE_DONE:
    case HP_ADVICE_PROBABLY:
        return (hp_practice_answer){.claim = HP_CLAIM_WIRING, .number = advice->number};
    case HP_ADVICE_DANGER: return the_danger(advice->danger);
    case HP_ADVICE_REPAIR:
    case HP_ADVICE_GIVE_UP: return the_trouble(advice->trouble);
    case HP_ADVICE_READ:
    case HP_ADVICE_TRY:
    case HP_ADVICE_LOOK:
    case HP_ADVICE_LEARN:
    case HP_ADVICE_COUNT: break;
    }
    return (hp_practice_answer){.claim = HP_CLAIM_NOTHING};
}
