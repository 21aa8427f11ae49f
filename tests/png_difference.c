/*
 * How far two pictures of one size differ, seen coarsely: the share of fields of 32 x 32 pixels
 * whose mean grey differs by more than 1/8 of the way from black to white.
 *
 *   png_difference A.png B.png
 */
#include <cairo.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>

#define FIELD 32

/* 0..255; white where there is nothing. */
static double grey_at(cairo_surface_t *image, int x, int y)
{
    const unsigned char *row =
        cairo_image_surface_get_data(image) + (ptrdiff_t)y * cairo_image_surface_get_stride(image);
    const unsigned char *p = row + 4 * x;
    return (p[0] + p[1] + p[2]) / 3.0;
}

static double field_grey(cairo_surface_t *image, int left, int top)
{
    double sum = 0.0;
    for (int y = top; y < top + FIELD; y++)
        for (int x = left; x < left + FIELD; x++)
            sum += grey_at(image, x, y);
    return sum / (FIELD * FIELD);
}

static cairo_surface_t *read_picture(const char *path)
{
    cairo_surface_t *image = cairo_image_surface_create_from_png(path);
    if (cairo_surface_status(image) != CAIRO_STATUS_SUCCESS) {
        fprintf(stderr, "%s: %s\n", path, cairo_status_to_string(cairo_surface_status(image)));
        exit(2);
    }
    return image;
}

int main(int argc, char **argv)
{
    if (argc != 3)
        return 2;
    cairo_surface_t *a = read_picture(argv[1]), *b = read_picture(argv[2]);
    int width = cairo_image_surface_get_width(a), height = cairo_image_surface_get_height(a);
    int across = abs(cairo_image_surface_get_width(b) - width);
    int down = abs(cairo_image_surface_get_height(b) - height);
    /* Heights are rounded to whole pixels by one, to whole units by the other. */
    if (across > 1 || down > 2) {
        fprintf(stderr, "%s is %d x %d larger or smaller than %s\n", argv[2], across, down,
                argv[1]);
        return 2;
    }
    long fields = 0, differ = 0;
    for (int y = 0; y + FIELD + 2 < height; y += FIELD) {
        for (int x = 0; x + FIELD + 2 < width; x += FIELD, fields++)
            differ += fabs(field_grey(a, x, y) - field_grey(b, x, y)) > 255.0 / 8.0;
    }
    printf("%.6f\n", (double)differ / (double)fields);
    cairo_surface_destroy(a);
    cairo_surface_destroy(b);
    return 0;
}
