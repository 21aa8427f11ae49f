/*
 * Draws every picture with both of the pen's tables of strokes, for tests/two_pens.py:
 *
 *   draw_two_pens FOLDER
 *
 * NAME.plplot.svg is from PLplot's own svg device, just as it writes it; NAME.svg is ours;
 * some are there as NAME.png, too, which Cairo draws for PLplot. The linker puts
 * __wrap_hp_canvas_render in front of the library's function, so that each picture is painted on
 * all of these.
 */
#include "entry_kind.h"
#include "picture_fixture.h"

#include "report/picture/pen_plplot.h"

#include <plplot/plplot.h>

static const char *folder, *name;
static bool with_png;

hp_result __real_hp_canvas_render(hp_picture_format format, const hp_paper *page, hp_paint paint,
                                  const void *data, char **bytes, size_t *size, hp_error *err);
hp_result __wrap_hp_canvas_render(hp_picture_format format, const hp_paper *page, hp_paint paint,
                                  const void *data, char **bytes, size_t *size, hp_error *err);

static FILE *open_file(const char *ending)
{
    char path[1024];
    snprintf(path, sizeof path, "%s/%s%s", folder, name, ending);
    FILE *out = fopen(path, "wb");
    check_true(out != NULL, "%s cannot be written", path);
    return out;
}

static void draw_with_plplot(const hp_paper *page, hp_paint paint, const void *data)
{
    PLINT stream, width = (PLINT)lround(page->width), height = (PLINT)lround(page->height);
    hp_canvas canvas = {
        .width = page->width, .height = page->height, .strokes = &hp_plplot_strokes};
    plmkstrm(&stream);
    plsdev("svg");
    plsetopt("drvopt", "text_clipping=0");
    hp_plplot_inks();
    plspage(HP_PLPLOT_UNITS_PER_INCH, HP_PLPLOT_UNITS_PER_INCH, width, height, 0, 0);
    plsfnam("picture.svg");
    plsfile(open_file(".plplot.svg")); /* PLplot closes it */
    plinit();
    pladv(0);
    paint(&canvas, data);
    plend1();
}

static void put_file(const char *ending, const char *bytes, size_t size)
{
    FILE *out = open_file(ending);
    check_true(fwrite(bytes, 1, size, out) == size, "%s%s is not whole", name, ending);
    fclose(out);
}

hp_result __wrap_hp_canvas_render(hp_picture_format format, const hp_paper *page, hp_paint paint,
                                  const void *data, char **bytes, size_t *size, hp_error *err)
{
    /* PLplot stretches a page to whole units. */
    hp_paper whole = *page;
    check_int((int)format, HP_PICTURE_SVG);
    whole.height = round(page->height);
    draw_with_plplot(&whole, paint, data);
    if (with_png) {
        check_int(__real_hp_canvas_render(HP_PICTURE_PNG, &whole, paint, data, bytes, size, err),
                  HP_OK);
        put_file(".png", *bytes, *size);
        free(*bytes);
    }
    hp_result result = hp_svg_render(&whole, paint, data, bytes, size, err);
    check_true(result == HP_OK, "%s: %s", name, err->text);
    put_file(".svg", *bytes, *size);
    return result;
}

static void draw(fixture *f, const hp_picture *picture, const char *subject)
{
    for (int s = 0; s < HP_SHAPE_COUNT; s++) {
        char label[200], *bytes = NULL;
        size_t size = 0;
        hp_error err = hp_error_none();
        hp_picture_target to = {.shape = (hp_shape)s, .bytes = &bytes, .size = &size};
        snprintf(label, sizeof label, "%s-%s-%s", picture->name, subject,
                 hp_shape_name((hp_shape)s));
        name = label;
        check_true(hp_picture_make(picture, &f->subject, &to, &err) == HP_OK, "%s: %s", name,
                   err.text);
        free(bytes);
    }
}

static void draw_all(fixture *f, const char *subject)
{
    for (int k = 0; k < hp_picture_count; k++)
        draw(f, hp_pictures[k], subject);
}

static void label_all(hp_labels *labels, const char *text)
{
    snprintf(labels->machine, sizeof labels->machine, "%s", text);
    for (int p = 0; p < HP_PHASE_COUNT; p++) {
        snprintf(labels->motor_lead[p], HP_LABEL_SIZE, "%s", text);
        snprintf(labels->motor_sensor[p], HP_LABEL_SIZE, "%s", text);
        snprintf(labels->controller_output[p], HP_LABEL_SIZE, "%s", text);
        snprintf(labels->controller_input[p], HP_LABEL_SIZE, "%s", text);
    }
}

/* A machine like that of the scenarios, one with odd names, one with faults and figures without
 * bound; each wiring where the picture is of one; each step where something is connected. */
static void draw_subjects(void **state)
{
    fixture *f = *state;
    char label[40];
    with_png = true;
    draw_all(f, "usual");
    with_png = false;
    for (int k = 0; k < KIND_LEARN; k++) {
        f->advice.reading = kind_reading(k);
        snprintf(label, sizeof label, "step%d", k);
        draw(f, hp_picture_find("connect"), label);
    }
    for (int n = 1; n <= HP_WIRING_COUNT; n += 5) {
        f->subject.number = n;
        f->subject.judgement = &f->sample.survey.judgement[n - 1];
        snprintf(label, sizeof label, "wiring%d", n);
        draw(f, hp_picture_find("lead-angle"), label);
        draw(f, hp_picture_find("six-steps"), label);
        draw(f, hp_picture_find("joints"), label);
    }
    f->sample.drive.sensors.spacing_60 = true;
    f->sample.drive.motor.lead_open[HP_V] = true;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        f->sample.survey.judgement[n].mean.battery_current = n % 3 ? 1e300 : (double)NAN;
    for (size_t k = 0; k < f->trace.count; k += 7)
        f->trace.sample[k].torque = k % 2 ? 1e12 : (double)NAN;
    draw_all(f, "faulty");
    label_all(&f->sample.labels, "</text><b>&amp;#u#gw#[0x3c]## and  so on to no end at all ]]>");
    draw_all(f, "odd");
    label_all(&f->sample.labels, "\u9ec4\u7da0\u85cd e\u0301 \xff\x01");
    draw_all(f, "foreign");
}

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = {WITH_FIXTURE(draw_subjects)};
    if (argc != 2)
        return 2;
    folder = argv[1];
    return cmocka_run_group_tests(tests, NULL, NULL);
}
