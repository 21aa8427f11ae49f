/* Turned by hand: three Hall sensors tell where the magnet is. */
#include "report/lesson/scene.h"

#include "model/lead.h"

#include <math.h>

/* Different codes of a forward turn. */
static int count_codes(const hp_lead_sector *sector, int count)
{
    bool seen[HP_CODE_COUNT] = {false};
    int codes = 0;
    for (int k = 0; k < count; k++) {
        codes += !seen[sector[k].code];
        seen[sector[k].code] = true;
    }
    return codes;
}

static void tell_wheel(const hp_scene_case *c, int codes, hp_scene_words *out)
{
    const hp_drive *drive = &c->lesson->drive;
    int pairs = drive->motor.pole_pairs;
    double ratio = drive->stand.gear_ratio;
    if (ratio > 1.0)
        hp_scene_say(out,
                     "This rotor has %d magnet pairs: the codes go by %d times in one turn of the "
                     "rotor. Behind its gear one turn of the wheel is %.1f turns of the rotor.",
                     pairs, pairs, ratio);
    else
        hp_scene_say(out,
                     "This wheel has %d magnet pairs. One turn of it passes all %d codes %d times: "
                     "%d changes.",
                     pairs, codes, pairs, codes * pairs);
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    const hp_labels *names = c->labels;
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    hp_wiring wiring = hp_wiring_from_number(l->correct);
    int count = hp_drive_sectors(&l->drive, &wiring, sector);
    int codes = count_codes(sector, count);
    static const int offered[] = {3, 4, 6, 8};
    hp_scene_ask(out, "Three Hall sensors feel the magnet. Each says 1 or 0, and the three figures "
                      "together are the code. One pair of magnets goes by, north and south. How "
                      "many different codes do we see?");
    for (int k = 0; k < 4; k++)
        hp_scene_choose(out, offered[k] == codes, "%d codes", offered[k]);
    hp_scene_look(out, "Turn the magnet slowly. Watch one sensor: when does it change?");
    hp_scene_look(out, "Now watch the leads: which one goes to plus, which to minus?");
    hp_scene_say(out,
                 "A full turn here is one pair of magnets going by. Each sensor says 1 for half of "
                 "it: while north is on its side. They sit a %s of a turn apart, so the code "
                 "changes every sixth: %d codes.",
                 l->drive.sensors.spacing_60 ? "sixth" : "third", codes);
    for (int k = 0; k < count; k++)
        if (sector[k].high >= 0) {
            const hp_lead_sector *s = &sector[k];
            hp_scene_say(out,
                         "Each code has its own pair of leads. At %d%d%d the controller puts %s to "
                         "plus and %s to minus. The third lead rests.",
                         s->code >> 2 & 1, s->code >> 1 & 1, s->code & 1,
                         names->motor_lead[s->high], names->motor_lead[s->low]);
            break;
        }
    tell_wheel(c, codes, out);
    hp_scene_usual(out, "The sensors measure how fast it turns.");
    hp_scene_instead(out, "Stop anywhere. The code is still there, and still true: it tells where "
                          "the magnet stands, not how fast it goes.");
}

extern const hp_scene hp_scene_hand;
const hp_scene hp_scene_hand = {"hand", "Turn it by hand", HP_VIEW_HAND, tell};
