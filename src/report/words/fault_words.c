/* What is faulty in the machine: see the header. */
#include "report/words/fault_words.h"

#include "hubphase/base/text.h"
#include "model/lead.h"

static const char *lead_of(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int lead)
{
    static const char *const letter[HP_PHASE_COUNT] = {"U", "V", "W"};
    return label[lead][0] ? label[lead] : letter[lead];
}

char *hp_fault_words(const hp_drive *drive, const hp_labels *labels, char *out, size_t size)
{
    static const char *const what[HP_SENSOR_FAULT_COUNT] = {
        [HP_SENSOR_STUCK_HIGH] = "is stuck at 1",
        [HP_SENSOR_STUCK_LOW] = "is stuck at 0",
        [HP_SENSOR_INVERTED] = "reads the wrong way round",
    };
    hp_phrase phrase = hp_phrase_begin(out, size);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (drive->motor.lead_open[k])
            hp_phrase_add(&phrase, "%sthe %s phase lead is open", out[0] ? "; " : "",
                          lead_of(labels->motor_lead, k));
    if (drive->sensors.no_supply)
        hp_phrase_add(&phrase, "%sthe Hall sensors have no supply", out[0] ? "; " : "");
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (drive->sensors.fault[k] != HP_SENSOR_SOUND)
            hp_phrase_add(&phrase, "%sthe Hall sensor on the %s lead %s", out[0] ? "; " : "",
                          lead_of(labels->motor_sensor, k), what[drive->sensors.fault[k]]);
    return out;
}

bool hp_codes_missing(const hp_drive *drive)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    hp_wiring wiring = hp_wiring_from_number(1);
    int count = hp_drive_sectors(drive, &wiring, sector);
    for (int k = 0; k < count; k++)
        if (sector[k].high < 0)
            return true;
    return false;
}
