/* A field of a plan drawn to scale on a page, with labels that keep clear of
 * each other. What is drawn with which pen stands here once, for the sheet, the
 * card and the legend. */
#ifndef FW_SHEET_DRAWING_H
#define FW_SHEET_DRAWING_H

#include "paper/paper.h"
#include "plan/plan.h"

/* A sign that stands on the drawing. */
struct fw_sign_place {
    struct fw_xy at;
    double away;       /* so far from it its name begins */
    const char *words; /* its name, borrowed; NULL: none, or it has it */
};

struct fw_drawing {
    struct fw_paper *paper;
    struct fw_page *page;
    const struct fw_plan *plan;
    size_t field;
    struct fw_xy at, size;  /* its frame, on the page */
    struct fw_point middle; /* of the ground that is shown */
    double scale;           /* 1 : scale */
    struct fw_labels labels;
    struct fw_labels lines; /* what words beside a place had better not cover */
    struct fw_sign_place signs[8];
    size_t sign_count;
    size_t numbers_left, lengths_left; /* labels for which there was no room */
};

/* Ground that is to be shown; {0} is none. */
struct fw_extent {
    bool any;
    double x0, y0, x1, y1;
};
void fw_extent_add(struct fw_extent *extent, struct fw_point point);
void fw_extent_add_rings(struct fw_extent *extent,
                         const struct fw_plan_field *field,
                         const struct fw_plan_rings *rings);
void fw_extent_add_fence(struct fw_extent *extent, const struct fw_plan *plan,
                         size_t fence);

/* At the greatest round scale with which the extent fits into the frame and
 * leaves `edge` points all round for labels. */
void fw_drawing_fit(struct fw_drawing *drawing, const struct fw_extent *extent,
                    double edge);
void fw_drawing_release(struct fw_drawing *drawing);

struct fw_xy fw_drawing_at(const struct fw_drawing *drawing,
                           struct fw_point point);
bool fw_drawing_shows(const struct fw_drawing *drawing, struct fw_xy at);

/* ---- lines and ground ---- */

enum fw_pen fw_drawing_pen(enum fw_fence_role role);
void fw_drawing_frame(struct fw_drawing *drawing);
/* Crosses so many metres apart, over all of the frame. */
void fw_drawing_grid(struct fw_drawing *drawing, double gap_m);
void fw_drawing_rings(struct fw_drawing *drawing,
                      const struct fw_plan_rings *rings, enum fw_pen pen);
/* Ponds and ground that is cut out: hatched. */
void fw_drawing_holes(struct fw_drawing *drawing);
void fw_drawing_fence(struct fw_drawing *drawing, size_t fence,
                      enum fw_pen pen);

/* What of a line lies within the frame. */
void fw_drawing_line(struct fw_drawing *drawing, enum fw_pen pen,
                     const struct fw_xy *points, size_t count);
/* What of a ring does, in its own place; both have room for 6 times as many
 * points and 16 more. How many there are then. */
size_t fw_drawing_clip_ring(const struct fw_drawing *drawing,
                            struct fw_xy *ring, size_t count,
                            struct fw_xy *room);

/* ---- labels ---- */

/* Words beside a place, as near as there is room; false: there is none. */
bool fw_drawing_beside(struct fw_drawing *drawing, struct fw_xy at, double away,
                       const char *words, const struct fw_type *type);
/* The same, or none where they would not stand close by. */
bool fw_drawing_close_by(struct fw_drawing *drawing, struct fw_xy at,
                         double away, const char *words,
                         const struct fw_type *type);
/* Words along a line, on it or to one side. */
bool fw_drawing_along(struct fw_drawing *drawing, const size_t *line,
                      size_t count, double aside, const char *words,
                      double size_pt);
/* Words inside the greatest piece of the ground, in the greatest of the
 * sizes that fits, with at least that share of their height (below 1 they lie
 * over the lines of slim ground); false: none does. */
bool fw_drawing_inside(struct fw_drawing *drawing,
                       const struct fw_plan_rings *rings, const char *words,
                       const double *sizes_pt, size_t count, double high_share);

/* Words beside the ground, where there is room, with a line into it. */
bool fw_drawing_led(struct fw_drawing *drawing,
                    const struct fw_plan_rings *rings, const char *words,
                    const struct fw_type *type);

/* ---- signs ---- */

enum fw_sign { FW_SIGN_GATE, FW_SIGN_WATER, FW_SIGN_ENERGIZER, FW_SIGN_PARK };

/* The sign, when the place is shown; beside what stands there already. Its
 * name, if it has one, comes later. */
void fw_drawing_sign(struct fw_drawing *drawing, enum fw_sign sign,
                     struct fw_point place, const char *words);
/* The names of so many of the signs, the first ones, where there is room close
 * by; none has it twice. */
void fw_drawing_names(struct fw_drawing *drawing, size_t count);
/* What is opened. */
void fw_drawing_ring(struct fw_drawing *drawing, struct fw_xy at);
void fw_drawing_sign_at(struct fw_drawing *drawing, enum fw_sign sign,
                        struct fw_xy at);
/* A corner of the field with its number, outside. */
bool fw_drawing_corner(struct fw_drawing *drawing, size_t corner,
                       double size_pt);
/* A danger with its number. */
void fw_drawing_danger(struct fw_drawing *drawing, struct fw_point place,
                       size_t number);
/* Gate, water that stays, vehicle and energizer of the field. */
void fw_drawing_places(struct fw_drawing *drawing);

/* A bar with its length, and an arrow to the north, from there on to the
 * right; how wide both are. Paces are told beside it where pace_m is over 0. */
double fw_drawing_bar(struct fw_drawing *drawing, struct fw_xy at,
                      double most_pt, double size_pt, double pace_m);
void fw_drawing_north(struct fw_drawing *drawing, struct fw_xy at,
                      double size_pt);

#endif
