/* A board with a field on it, and the map that comes of it. */
#ifndef FW_BOARD_HELP_H
#define FW_BOARD_HELP_H

#include "layout_help.h"

#include "cutting/board.h"

static inline void begin(struct fw_board *board, struct fw_region *whole,
                         const struct plot *plot,
                         const struct fw_ground *ground)
{
    double holds = 0;
    assert_int_equal(fw_board_init(board, &plot->field, ground, NULL), FW_OK);
    assert_int_equal(fw_board_whole(board, whole, NULL), FW_OK);
    assert_int_equal(fw_board_holds(board, whole, &holds, NULL), FW_OK);
    if (!ground)
        assert_relative(holds, plot->field.area_m2, 1e-14);
}

static inline double holds(const struct fw_board *board,
                           const struct fw_region *region)
{
    double out = 0;
    assert_int_equal(fw_board_holds(board, region, &out, NULL), FW_OK);
    return out;
}

/* The map of these regions; every one of it is released, and the board. */
static inline struct fw_layout finish(struct fw_board *board,
                                      struct fw_region *regions, size_t count,
                                      size_t common_count)
{
    struct fw_layout out = {0};
    struct map_check check;
    const struct fw_field *field = board->field;
    assert_int_equal(fw_board_finish(board, regions, count, regions + count,
                                     common_count, &out, NULL),
                     FW_OK);
    for (size_t i = 0; i < count + common_count; i++) {
        assert_relative(out.holds[i], holds(board, &regions[i]), 1e-9);
        fw_region_release(&regions[i]);
    }
    fw_board_release(board);
    if (!map_fits(&check, field, &out))
        fail_msg("%s", check.why);
    map_check_release(&check);
    return out;
}

#endif
