/* Copper leads: see the header. */
#include "model/conductor.h"

#include <math.h>

double hp_gauge_area_mm2(double gauge)
{
    double mm = 25.4 / 200.0 * pow(92.0, (36.0 - gauge) / 39.0);
    return 0.25 * M_PI * mm * mm;
}

double hp_gauge_of_area(double area_mm2)
{
    double mm = sqrt(4.0 * area_mm2 / M_PI);
    return 36.0 - 39.0 * log(mm * 200.0 / 25.4) / log(92.0);
}

double hp_conductor_ohm_per_m(double area_mm2)
{
    return 1.0 / (58.0 * area_mm2);
}

double hp_conductor_hot(double ohm, double copper_per_k, double temperature_c)
{
    return ohm * (1.0 + copper_per_k * (temperature_c - 20.0));
}

double hp_insulation_c(hp_insulation insulation)
{
    static const double hottest[HP_INSULATION_COUNT] = {60.0, 75.0, 90.0};
    return hottest[insulation];
}

/* Free-air ampacities at 30 C (Kuphaldt, Lessons In Electric Circuits I, read). */
typedef struct row {
    double gauge, ampere[HP_INSULATION_COUNT];
} row;

static const row table[] = {
    {14, {25, 30, 35}},
    {12, {30, 35, 40}},
    {10, {40, 50, 55}},
    {8, {60, 70, 80}},
};
#define ROWS    (int)(sizeof table / sizeof table[0])
#define TABLE_C 30.0

double hp_conductor_ampacity(double area_mm2, hp_insulation insulation, double air_c)
{
    double hottest = hp_insulation_c(insulation);
    if (!(air_c < hottest))
        return 0.0;
    /* The two rows on either side; beyond the table the power that joins its ends. */
    double first = hp_gauge_area_mm2(table[0].gauge);
    double last = hp_gauge_area_mm2(table[ROWS - 1].gauge);
    int below = 0, above = ROWS - 1;
    if (area_mm2 >= first && area_mm2 <= last)
        for (above = 1; above < ROWS - 1 && area_mm2 > hp_gauge_area_mm2(table[above].gauge);)
            above++, below++;
    double a = hp_gauge_area_mm2(table[below].gauge), b = hp_gauge_area_mm2(table[above].gauge);
    double i = table[below].ampere[insulation], j = table[above].ampere[insulation];
    double power = log(j / i) / log(b / a);
    double at_table = area_mm2 > last ? j * pow(area_mm2 / b, power) : i * pow(area_mm2 / a, power);
    return at_table * sqrt((hottest - air_c) / (hottest - TABLE_C));
}

double hp_conductor_warming(double amperes, double ampacity_a, hp_insulation insulation,
                            double air_c)
{
    double share = amperes / ampacity_a;
    return share * share * (hp_insulation_c(insulation) - air_c);
}
