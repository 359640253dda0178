/* Choosing where the fences go: every pattern at every direction. What comes
 * out is a list of candidates, each a whole map of paddocks, lines and their
 * order; which of them suits a farm is weighed by its plan. */
#ifndef FW_LAYOUT_H
#define FW_LAYOUT_H

#include <foldwright/error.h>
#include <foldwright/field.h>

#ifdef __cplusplus
extern "C" {
#endif

struct fw_herbage;
struct fw_raster;

enum fw_last {
    FW_LAST_FIT,   /* even where a short last one would hold under half of its
                      target, and each even one at most 115 % of its own; else
                      short */
    FW_LAST_SHORT, /* full paddocks, then what is left; less than 10 % of a
                      paddock is no paddock but goes to the last full one */
    FW_LAST_EVEN,  /* as many paddocks as fit, to the nearest, every one the
                      same share of its target */
    FW_LAST_GIVEN  /* one for each target, just as given; what the field has
                      beyond them, however little, is one more. FW_EPLAN: it
                      has less. Without lanes and aprons, whose ground would
                      be missing, unless a pattern asks for them */
};

enum fw_line_role {
    FW_LINE_MOVED,    /* goes with the flock */
    FW_LINE_STANDING, /* parts two blocks: stands until both are done */
    FW_LINE_LANE,     /* along a lane or an apron: stands all the time */
    FW_LINE_FRONT     /* stood before: no layout makes it, a plan adds it */
};

/* One straight or bent line of fence. */
struct fw_layout_line {
    enum fw_line_role role;
    size_t first, count; /* in line_vertices, one at every tie */
    size_t from, to; /* the first and the last grazed paddock beside it; equal
                        when the other side is common ground */
    bool holds_ends; /* other lines end on it, so that it must outlast them */
    size_t needed_from, needed_to; /* from and to, of it and of those */
    double length_m;
};

/* A vertex that the layout made. */
struct fw_layout_vertex {
    struct fw_point point;
    size_t edge; /* the field's side (from the vertex of that index) that it
                    stands on, or FW_INSIDE */
    double t;    /* of the way along that side */
};

#define FW_INSIDE ((size_t)-1)

/* A map of paddocks. Everything is an index: below vertex_count a vertex of
 * the field, from there on added[index - vertex_count]. Every vertex that
 * stands on a fence or a side is a vertex of all rings that pass it. */
struct fw_layout {
    char name[32];        /* "blocks-4-112", to ask for it again */
    const char *pattern;  /* a row's name of the table of patterns */
    double direction_deg; /* in which the flock moves, or moves from block to
                             block, anticlockwise from east */
    size_t vertex_count;
    struct fw_layout_vertex *added;
    size_t added_count;
    size_t *ring_vertices; /* all rings, one after the other, not closed */
    size_t *ring_start;    /* ring_count + 1 */
    size_t ring_count;
    size_t *piece_ring; /* piece_count + 1: first ring of each piece */
    size_t piece_count;
    size_t *paddock_piece; /* first piece of each paddock, in grazing order,
                              then of each common ground; and one past it */
    size_t paddock_count, common_count;
    double *paddock_m2; /* paddock_count + common_count */
    double *holds;      /* mass, on unequal ground; else square metres */
    size_t *line_vertices;
    size_t *left, *right; /* paddock (or, from paddock_count, common ground)
                             beside the piece of line that starts at each of
                             line_vertices; FW_INSIDE at a line's last one */
    struct fw_layout_line *lines;
    size_t line_count;
    bool is_map;       /* every side has one ground on either side of it */
    size_t full_count; /* paddocks that hold their target or more */
    double last_share; /* of its target that the last one holds: 1 if full; more
                          with what was left over, which is under a tenth of
                          what a next one would have held */
    bool even;         /* each one holds the same share of its target */
    double share;      /* that share; 1 when it is not even */
    size_t broken_count; /* paddocks in several pieces: 0 where it can be */
    size_t apart_count;  /* paddocks not reached over ground grazed before */
    size_t turn_count; /* paddocks that do not adjoin the one before: the flock
                          walks back over grazed ground */
    double gate_m;     /* from the start to the first paddock, or to the lane
                          that leads to it */
    bool far_first;    /* the far end is grazed first, along a lane */
    /* By paddock, when the request keeps any back: for which of request->keep
     * it is kept, from 1, and for which it would serve but cannot be left out,
     * since others are reached only over it. 0: none. */
    size_t *keep, *barred;
    double keep_short;          /* stays that could not be kept, over all */
    double line_m;              /* all lines */
    double moved_m, standing_m; /* of it; lanes stand */
};

FW_API void fw_layout_release(struct fw_layout *layout);

/* Where a vertex of its rings and lines lies; field is the one that was cut.
 * false: it has no such vertex, and *out is left alone. */
FW_API bool fw_layout_point(const struct fw_layout *layout,
                            const struct fw_field *field, size_t vertex,
                            struct fw_point *out);

/* Something on the ground: an area by its rings, a line, or points. */
struct fw_layout_mark {
    const struct fw_point *points;
    const size_t *ring_start; /* ring_count + 1 */
    size_t ring_count;
    bool area;
};

/* Paddocks to be kept back and grazed last: those that hold or touch one of the
 * marks, as many as last for so many stays. */
struct fw_layout_keep {
    double stays;
    const struct fw_layout_mark *marks;
    size_t mark_count;
};

/* What a paddock must hold on the day on which it is grazed, and the ground as
 * it is then. */
struct fw_layout_day {
    const struct fw_herbage *ground;
    double kg; /* over 0 */
};

struct fw_layout_request {
    const struct fw_field *field;
    const struct fw_herbage *ground; /* NULL: every square metre counts alike */
    const double *target; /* what each paddock in turn must hold: kg on unequal
                             ground, else m2 */
    const struct fw_layout_day *days; /* target_count: of unequal ground that
                             differs from day to day. Then a target is a guess
                             of how much of `ground` holds what is wanted on the
                             day. NULL: it is the same on all of them */
    size_t target_count; /* more than the field holds is fine; when there are
                            fewer, the last one is repeated */
    enum fw_last last;
    const struct fw_point *start; /* gate or water: the first paddock lies
                                     there; NULL: anywhere */
    const struct fw_point *also;  /* a place that the first paddock had better
                                     touch too: the gate, where the start is the
                                     water; NULL: none */
    bool breaks_only; /* no lanes, and no fences that run to the water: grazed
                         ground stays open, so none are needed */
    bool one_way;     /* begin at the end that is nearer to the start, and go on
                         to the other one, though the start may lie between: one
                         front will do, and the flock is led in over ground that
                         waits. For breaks with water that goes along */
    bool far_first;   /* the first paddock lies farthest from the start, where a
                         lane leads there; other layouts begin near it */
    const char *pattern; /* only this row of the table; NULL: all */
    bool direction_given;
    double direction_deg;         /* of the strips' sweep, when given */
    int directions;               /* how many to try over half a turn; 0: 180 */
    const struct fw_point *water; /* for wedges about it; NULL: none */
    double apron_m; /* radius of the ground about the water that is not
                       grazed; 0: 8, negative: none */
    const struct fw_point *lane; /* along which a lane lies; NULL: anywhere */
    size_t lane_count;
    double lane_width_m; /* of a lane; 0: 6 */
    const struct fw_layout_keep *keep;
    size_t keep_count;
    const struct fw_raster *heights; /* above the sea, in the field's plane, for
                                        strips along the contour; NULL: none */
    bool bends; /* block lines may bend at every tie, for the least fence */
};

/* Candidates, those with the least line of each pattern and a few of its
 * neighbours. */
struct fw_layout_list {
    struct fw_layout *items;
    size_t count, capacity;
};

/* Every layout worth weighing, in a fixed order. All paddocks of all of them
 * are in one piece and hold their targets.
 * FW_EPLAN: the field holds less than half of one paddock, or cannot be cut
 * into connected ones; FW_EINPUT: a target is not over 0, the paddocks are
 * more than 100,000, no such pattern. */
FW_API enum fw_status
fw_layout_candidates(const struct fw_layout_request *request,
                     struct fw_layout_list *out, struct fw_error *err);
FW_API void fw_layout_list_release(struct fw_layout_list *list);

/* A pattern's name and what it is, one line; NULL after the last. */
FW_API const char *fw_layout_pattern(size_t row, const char **what);

/* Lower bound of all interior fence for connected paddocks of these areas in a
 * field of that boundary (with its holes) with so many vertices and holes: the
 * greater of the isoperimetric and the straight-fence bound; never negative.
 * Paddocks smaller than the greatest count by the isoperimetric one in both.
 * The proof stands in docs/guide/layout.md. */
FW_API double fw_layout_bound_m(const double *area_m2, size_t count,
                                double boundary_m, size_t vertices,
                                size_t holes);

#ifdef __cplusplus
}
#endif
#endif
