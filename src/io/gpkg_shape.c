/* Geometries as a GeoPackage keeps them: a head with the box around them, then
 * well-known binary. Numbers are in this machine's order, which both tell. */
#include "io/gpkg_shape.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

void fw_io__box_extend(struct fw_io__box *box, const struct fw_row *row)
{
    for (size_t i = 0; i < row->point_count; i++) {
        box->least_x = fmin(box->least_x, row->points[i].x);
        box->most_x = fmax(box->most_x, row->points[i].x);
        box->least_y = fmin(box->least_y, row->points[i].y);
        box->most_y = fmax(box->most_y, row->points[i].y);
    }
}

static void put(struct fw_text *blob, const void *value, size_t size)
{
    fw_text_add_bytes(blob, value, size);
}

static void put_whole(struct fw_text *blob, size_t whole)
{
    const uint32_t number = (uint32_t)whole;
    put(blob, &number, sizeof number);
}

/* 1 where the least byte of a number comes first. */
static unsigned char byte_order(void)
{
    const uint16_t one = 1;
    unsigned char first;
    memcpy(&first, &one, sizeof first);
    return first;
}

enum wkb { WKB_POINT = 1, WKB_LINE, WKB_POLYGON, WKB_MULTIPOLYGON = 6 };

static void begin(struct fw_text *blob, enum wkb type)
{
    const unsigned char order = byte_order();
    put(blob, &order, sizeof order);
    put_whole(blob, type);
}

static void put_points(struct fw_text *blob, const struct fw_xy *points,
                       size_t count)
{
    put(blob, points, count * sizeof *points);
}

/* A ring ends where it began. */
static void put_polygon(struct fw_text *blob, const struct fw_row *row,
                        size_t first, size_t end)
{
    begin(blob, WKB_POLYGON);
    put_whole(blob, end - first);
    for (size_t r = first; r < end; r++) {
        const struct fw_xy *ring = row->points + row->ring_start[r];
        const size_t count = row->ring_start[r + 1] - row->ring_start[r];
        put_whole(blob, count + 1);
        put_points(blob, ring, count);
        put_points(blob, ring, 1);
    }
}

/* Rows of one polygon need not list their pieces. */
static void put_polygons(struct fw_text *blob, const struct fw_row *row,
                         bool multi)
{
    const size_t whole[2] = {0, row->ring_count};
    const size_t pieces = row->piece_ring ? row->piece_count : 1;
    const size_t *piece_ring = row->piece_ring ? row->piece_ring : whole;
    if (multi || pieces != 1) {
        begin(blob, WKB_MULTIPOLYGON);
        put_whole(blob, pieces);
    }
    for (size_t i = 0; i < pieces; i++)
        put_polygon(blob, row, piece_ring[i], piece_ring[i + 1]);
}

/* Points need no box. */
static void put_head(struct fw_text *blob, const struct fw_row *row, int srs_id)
{
    enum { has_box = 1 << 1, is_empty = 1 << 4 };
    const int flags = row->point_count == 0           ? is_empty
                      : row->kind == FW_FEATURE_POINT ? 0
                                                      : has_box;
    const unsigned char head[] = {'G', 'P', 0,
                                  (unsigned char)(flags | byte_order())};
    struct fw_io__box box = FW_IO__NOWHERE;
    put(blob, head, sizeof head);
    put_whole(blob, (size_t)srs_id);
    fw_io__box_extend(&box, row);
    if (flags == has_box)
        put(blob, &box, sizeof box);
}

void fw_io__gpkg_shape(struct fw_text *blob, const struct fw_row *row,
                       bool multi, int srs_id)
{
    put_head(blob, row, srs_id);
    if (row->kind == FW_FEATURE_POLYGON) {
        put_polygons(blob, row, multi);
        return;
    }
    const bool line = row->kind == FW_FEATURE_LINE;
    begin(blob, line ? WKB_LINE : WKB_POINT);
    if (line)
        put_whole(blob, row->point_count);
    put_points(blob, row->points, line ? row->point_count : 1);
}
