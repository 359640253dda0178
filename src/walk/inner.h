/* What the files of this folder share. A half-side has the number of the corner
 * that it starts from: of triangle t those are 3 t, 3 t + 1 and 3 t + 2, and
 * its triangle lies to its left. */
#ifndef FW_WALK_INNER_H
#define FW_WALK_INNER_H

#include "figures/mark.h"
#include "walk/walk.h"

enum { FW_WALK__SIDES = FW_PARTS(3) };

struct fw_walk__side {
    size_t point;  /* that it starts from, and the corner there */
    size_t beyond; /* the half-side on its other side; FW_NONE: a wall */
    size_t line;   /* that runs along it; FW_NONE: none, and it is no fence */
    double from_m, to_m; /* along that line, at its start and its end */
    size_t next;         /* of those along the line; FW_NONE: the last one */
    bool open;           /* the line lets them pass, as last settled */
};

struct fw_walk__triangle {
    size_t cell;
    size_t next;          /* of the cell; FW_NONE: the last one */
    unsigned long search; /* that saw it; else nothing did */
    size_t first, last;   /* of its pieces */
};

struct fw_walk__opening {
    size_t line;
    double from_m, to_m;
    size_t next; /* of the same line; FW_NONE */
};

/* From the first to the second point, and on. */
struct fw_walk__ray {
    struct fw_point a, b;
};

/* Where a way turns last: all the ground that is seen from there in one go. */
struct fw_walk__root {
    struct fw_point at;
    double walked_m; /* from there to the place of the search */
    size_t from; /* the root that the way from there leads to first; FW_NONE:
                    it is the place of the search */
    bool beaten; /* another one in the same place took over all it sees */
};

/* What a root sees of a triangle: it lies between two rays from it. */
struct fw_walk__piece {
    size_t triangle, root;
    size_t next; /* of the triangle; FW_NONE: the last one */
    bool whole;  /* all of it */
    struct fw_walk__ray right, left;
};

/* How far it is to a corner with a wall, as found so far. */
struct fw_walk__reach {
    unsigned long search; /* in which that was; else nothing is known */
    double walked_m;
    size_t root;    /* from which it is seen */
    size_t corner;  /* of the triangle through which */
    size_t as_root; /* that it has become; FW_NONE: none yet */
};

/* Which corners are one: no wall parts them. */
struct fw_walk__corner {
    unsigned long search;
    size_t first; /* of them, with a wall to its right; FW_NONE: there is none
                   */
    bool turns;   /* a way can turn here */
};

struct fw_walk__wedge {
    size_t side; /* to be passed */
    size_t root;
    size_t next; /* held at that side; FW_NONE: the last one */
    struct fw_walk__ray right, left;
};

struct fw_walk__held { /* at a line, by half-side */
    unsigned long search;
    size_t first; /* wedge; FW_NONE: none */
};

struct fw_walk__next { /* to be gone on from, in a heap */
    double walked_m;
    size_t corner;
};

struct fw_walk__parting;

struct fw_walk_ground {
    struct fw_point *points;
    size_t point_count, point_capacity;
    struct fw_walk__triangle *triangles;
    size_t triangle_count, triangle_capacity;
    struct fw_walk__side *sides; /* three a triangle */
    size_t side_capacity;
    size_t cell_count, line_count;
    size_t *first_of_cell; /* triangle */
    bool *broken;          /* by cell: it could not be cut into triangles */
    bool *stands;          /* by line */
    size_t *first_of_line; /* half-side along it */
    size_t *open_of_line;  /* opening */
    bool *changed;         /* by line: its sides are not settled yet */
    size_t *changes;       /* lines that have changed */
    size_t change_count;
    struct fw_walk__opening *openings;
    size_t opening_count, opening_capacity;

    /* What the last search found; it holds on while the ground only grows. */
    unsigned long search;
    bool found;
    struct fw_walk_start start; /* its cells are owned */
    size_t *start_cells;
    size_t start_capacity;
    size_t *opened; /* half-sides that are passed since then */
    size_t opened_count, opened_capacity;
    struct fw_walk__root *roots;
    size_t root_count, root_capacity;
    struct fw_walk__piece *pieces;
    size_t piece_count, piece_capacity;
    double passed;                 /* pieces, in all searches */
    struct fw_walk__corner *turns; /* by half-side */
    size_t turn_capacity;
    struct fw_walk__reach *reached; /* by half-side */
    size_t reached_capacity;
    struct fw_walk__wedge *wedges;
    size_t wedge_count, wedge_capacity;
    struct fw_walk__held *held; /* by half-side */
    size_t held_capacity;
    struct fw_walk__wedge *waiting; /* held by lines */
    size_t waiting_count, waiting_capacity;
    struct fw_walk__parting *parting; /* room for sums */
    struct fw_walk__next *heap;
    size_t heap_count, heap_capacity;

    const struct fw_herbage *feed; /* that sums weigh by; NULL: by area alone */
};

static inline size_t fw_walk__after(size_t side)
{
    return side % FW_WALK__SIDES == 2 ? side - 2 : side + 1;
}

static inline size_t fw_walk__before(size_t side)
{
    return side % FW_WALK__SIDES == 0 ? side + 2 : side - 1;
}

static inline struct fw_point fw_walk__at(const struct fw_walk_ground *ground,
                                          size_t side)
{
    return ground->points[ground->sides[side].point];
}

static inline bool fw_walk__passable(const struct fw_walk_ground *ground,
                                     size_t side)
{
    const struct fw_walk__side *of = &ground->sides[side];
    return of->beyond != FW_NONE && (of->line == FW_NONE || of->open);
}

/* The first piece of a triangle; FW_NONE: none of it is seen. */
static inline size_t fw_walk__first(const struct fw_walk_ground *ground,
                                    size_t triangle)
{
    const struct fw_walk__triangle *of = &ground->triangles[triangle];
    return of->search == ground->search ? of->first : FW_NONE;
}

/* exact.c: over 0 where c lies to the left of the way from a to b, under 0 to
 * the right, 0 on its line: without any rounding. */
double fw_walk__left(struct fw_point a, struct fw_point b, struct fw_point c);

/* triangles.c: of all cells, whose points are in place already. ring_side[p] is
 * the half-side of the ring's side from point p on. */
enum fw_status fw_walk__cut(struct fw_walk_ground *ground,
                            const struct fw_walk_map *map, size_t *ring_side,
                            struct fw_error *err);

/* sides.c: what lies beyond, and which line runs there. */
enum fw_status fw_walk__join(struct fw_walk_ground *ground,
                             const struct fw_walk_map *map,
                             const size_t *ring_side, struct fw_error *err);
/* What changed since the last search: half-sides that are passed now, one of
 * each two, and whether any that matters is no more. */
enum fw_status fw_walk__settle(struct fw_walk_ground *ground, bool *shrunk,
                               struct fw_error *err);
/* Room for so many triangles in all. */
enum fw_status fw_walk__make_room(struct fw_walk_ground *ground,
                                  size_t triangles, struct fw_error *err);
enum fw_status fw_walk__add_triangle(struct fw_walk_ground *ground, size_t cell,
                                     const size_t points[FW_WALK__SIDES],
                                     size_t *out, struct fw_error *err);

/* next.c: corners to be gone on from, in a heap */
enum fw_status fw_walk__push(struct fw_walk_ground *ground,
                             struct fw_walk__next next, struct fw_error *err);
struct fw_walk__next fw_walk__pop(struct fw_walk_ground *ground);

/* corners.c: the next one about the same point, anticlockwise and clockwise;
 * FW_NONE: a wall. And which of them are one with a corner. */
size_t fw_walk__turn_left(const struct fw_walk_ground *ground, size_t corner);
size_t fw_walk__turn_right(const struct fw_walk_ground *ground, size_t corner);
struct fw_walk__corner fw_walk__about(struct fw_walk_ground *ground,
                                      size_t corner);

/* sides.c: has the last search seen any of the triangles about that corner? */
bool fw_walk__is_seen(const struct fw_walk_ground *ground, size_t corner);

/* pieces.c: the corners of a piece, as many as it has; 0: it has no area. */
enum { FW_WALK__CORNERS = FW_PARTS(6) };
size_t fw_walk__corners(const struct fw_walk_ground *ground,
                        const struct fw_walk__piece *piece,
                        struct fw_point out[FW_WALK__CORNERS]);
/* Is the place in it, or at most a hair's breadth away? */
bool fw_walk__has(const struct fw_walk_ground *ground,
                  const struct fw_walk__piece *piece, struct fw_point at);

struct fw_walk__sum {
    double area_m2, way_m3;   /* the way from each place, over the area */
    double feed_kg, way_kg_m; /* the same over feed, where that is asked for */
    double most_m;
};

/* The ways from a root over what a ring encloses, and the longest to a corner
 * of it. With feed the ring is convex. */
void fw_walk__add(const struct fw_herbage *feed, struct fw_point root,
                  double walked_m, const struct fw_point *ring, size_t count,
                  struct fw_walk__sum *total);

/* walk.c */
struct fw_walk_sums fw_walk__sums(const struct fw_walk__sum *sum,
                                  double covered);

/* nearest.c: of a triangle whose pieces lie over each other, each place by that
 * from which it is nearest. A longest way under most_m is not looked for. The
 * room for it is the ground's. */
struct fw_walk__parting *fw_walk__parting_new(void);
void fw_walk__parting_free(struct fw_walk__parting *parting);
enum fw_status fw_walk__nearest(const struct fw_walk_ground *ground,
                                size_t triangle, double cell_m2, double most_m,
                                struct fw_walk__sum *out, struct fw_error *err);

#endif
