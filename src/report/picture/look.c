/* Shapes of pictures: see the header. */
#include "report/picture/look.h"

#include <math.h>
#include <string.h>

/* 20 of 650 units are 12 of 390 pixels; 19 of 720 are 1/37.9; 14 quarters of a millimetre are 9.9
 * points. */
static const hp_look looks[HP_SHAPE_COUNT] = {
    [HP_SHAPE_PHONE] = {HP_SHAPE_PHONE, 650.0, 0.0, 8.0, 20.0, 21.0, 30.0, 20.0},
    [HP_SHAPE_WALL] = {HP_SHAPE_WALL, 1280.0, 720.0, 26.0, 19.0, 20.0, 34.0, 26.0},
    [HP_SHAPE_A4] = {HP_SHAPE_A4, HP_PICTURE_A4_WIDTH, HP_PICTURE_A4_HEIGHT, 44.0, 14.0, 16.0, 26.0,
                     22.0},
};

static const char *const shape_name[HP_SHAPE_COUNT] = {"phone", "wall", "a4"};

const char *hp_shape_name(hp_shape shape)
{
    return shape_name[shape];
}

hp_result hp_shape_parse(const char *name, hp_shape *shape, hp_error *err)
{
    for (int k = 0; k < HP_SHAPE_COUNT; k++) {
        if (strcmp(name, shape_name[k]) == 0) {
            *shape = (hp_shape)k;
            return HP_OK;
        }
    }
    return hp_error_set(err, HP_FAIL_INPUT, "picture shape is \"%s\", must be phone, wall or a4",
                        name);
}

const hp_look *hp_look_of(hp_shape shape)
{
    return &looks[shape];
}

hp_look hp_look_dense(hp_shape shape)
{
    hp_look look = looks[shape];
    look.body = look.small;
    look.gap *= 0.6;
    return look;
}

hp_type hp_look_small(const hp_look *look, hp_ink ink, hp_align align, bool bold)
{
    return (hp_type){look->small, ink, align, bold};
}

hp_type hp_look_body(const hp_look *look, hp_ink ink, hp_align align, bool bold)
{
    return (hp_type){look->body, ink, align, bold};
}

double hp_look_line(double letters)
{
    return 1.3 * letters;
}

hp_room hp_look_room(const hp_look *look, double top, double plot_height, double share)
{
    double left = look->margin, right = look->width - look->margin;
    double bottom = look->height > 0.0 ? look->height - look->margin : INFINITY;
    hp_room room;
    if (look->shape == HP_SHAPE_WALL) {
        double end = left + share * (right - left);
        room.plot = (hp_box){left, top, end, bottom};
        room.words = (hp_box){end + look->gap, top, right, bottom};
    } else {
        room.plot = (hp_box){left, top, right, top + plot_height};
        room.words = (hp_box){left, room.plot.bottom + 0.5 * look->gap, right, bottom};
    }
    return room;
}

hp_flow hp_flow_begin(const hp_canvas *canvas, const hp_look *look, hp_box box)
{
    return (hp_flow){.canvas = canvas,
                     .look = look,
                     .left = box.left,
                     .width = box.right - box.left,
                     .y = box.top,
                     .bottom = box.bottom};
}

bool hp_flow_fits(hp_flow *flow, double height)
{
    flow->full = flow->full || flow->y + height > flow->bottom;
    return !flow->full;
}

static void put(hp_flow *flow, hp_type type, const char *text)
{
    if (!text[0] || !hp_flow_fits(flow, hp_pen_paragraph_height(flow->width, type, text)))
        return;
    flow->y = hp_pen_paragraph(flow->canvas, flow->left, flow->y, flow->width, type, text) +
              0.35 * type.size;
}

void hp_flow_paragraph(hp_flow *flow, const char *text)
{
    put(flow, hp_look_body(flow->look, HP_INK_BLACK, HP_ALIGN_LEFT, false), text);
}

void hp_flow_bold(hp_flow *flow, const char *text)
{
    put(flow, hp_look_body(flow->look, HP_INK_BLACK, HP_ALIGN_LEFT, true), text);
}

void hp_flow_space(hp_flow *flow, double height)
{
    flow->y += height;
}
