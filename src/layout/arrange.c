/* The paddocks of a layout in another order. */
#include "base/alloc.h"
#include "base/fail.h"
#include "layout/pattern.h"

#include <string.h>

struct scratch {
    size_t *ring_vertices, *ring_start, *piece_ring, *paddock_piece;
    double *paddock_m2, *holds;
};

static bool make_room(const struct fw_layout *layout, struct scratch *room)
{
    const size_t grounds = layout->paddock_count + layout->common_count;
    const size_t vertices = layout->ring_start[layout->ring_count];
    return (room->ring_vertices = fw_alloc(vertices, sizeof(size_t))) &&
           (room->ring_start =
                fw_alloc(layout->ring_count + 1, sizeof(size_t))) &&
           (room->piece_ring =
                fw_alloc(layout->piece_count + 1, sizeof(size_t))) &&
           (room->paddock_piece = fw_alloc(grounds + 1, sizeof(size_t))) &&
           (room->paddock_m2 = fw_alloc(grounds, sizeof(double))) &&
           (room->holds = fw_alloc(grounds, sizeof(double)));
}

static void copy_in_order(const struct fw_layout *layout, const size_t *order,
                          struct scratch *room)
{
    const size_t grounds = layout->paddock_count + layout->common_count;
    size_t vertices = 0, rings = 0, pieces = 0;
    for (size_t rank = 0; rank < grounds; rank++) {
        const size_t p = rank < layout->paddock_count ? order[rank] : rank;
        room->paddock_piece[rank] = pieces;
        room->paddock_m2[rank] = layout->paddock_m2[p];
        room->holds[rank] = layout->holds[p];
        for (size_t i = layout->paddock_piece[p];
             i < layout->paddock_piece[p + 1]; i++) {
            room->piece_ring[pieces++] = rings;
            for (size_t r = layout->piece_ring[i];
                 r < layout->piece_ring[i + 1]; r++) {
                const size_t first = layout->ring_start[r];
                const size_t count = layout->ring_start[r + 1] - first;
                room->ring_start[rings++] = vertices;
                memcpy(room->ring_vertices + vertices,
                       layout->ring_vertices + first, count * sizeof(size_t));
                vertices += count;
            }
        }
    }
    room->paddock_piece[grounds] = pieces;
    room->piece_ring[pieces] = rings;
    room->ring_start[rings] = vertices;
}

static void swap(void *a, void *b)
{
    void *kept;
    memcpy(&kept, a, sizeof kept);
    memcpy(a, b, sizeof kept);
    memcpy(b, &kept, sizeof kept);
}

enum fw_status fw_layout__arrange(struct fw_layout *layout, const size_t *order,
                                  struct fw_error *err)
{
    struct scratch room = {0};
    enum fw_status status = FW_OK;
    if (make_room(layout, &room)) {
        copy_in_order(layout, order, &room);
        swap(&room.ring_vertices, &layout->ring_vertices);
        swap(&room.ring_start, &layout->ring_start);
        swap(&room.piece_ring, &layout->piece_ring);
        swap(&room.paddock_piece, &layout->paddock_piece);
        swap(&room.paddock_m2, &layout->paddock_m2);
        swap(&room.holds, &layout->holds);
        status = fw_layout__beside(layout, err);
    } else {
        status = fw_fail_memory(err);
    }
    fw_free(room.ring_vertices);
    fw_free(room.ring_start);
    fw_free(room.piece_ring);
    fw_free(room.paddock_piece);
    fw_free(room.paddock_m2);
    fw_free(room.holds);
    return status;
}
