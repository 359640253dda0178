/* What every pattern is given, what it offers, and the table of patterns. */
#ifndef FW_LAYOUT_PATTERN_H
#define FW_LAYOUT_PATTERN_H

#include "cutting/plots.h"

/* How the ground is shared out, whatever the pattern. */
struct fw_layout_shares {
    double *behind; /* in the first, the first two … paddocks: count of them,
                       the last one being all */
    size_t count;   /* paddocks */
    size_t full_count;
    double last_share;
    double share;
    bool even; /* each one gets that share of its target */
};

/* `holds` is what there is to share: mass on unequal ground, else m2. */
enum fw_status fw_layout__share(const struct fw_layout_request *request,
                                double holds, struct fw_layout_shares *out,
                                struct fw_error *err);
void fw_layout__shares_release(struct fw_layout_shares *shares);

/* A layout that could be made. Its plots are the paddocks in the order in
 * which the pattern would have them grazed; where the gate wants another
 * order, the cuts are made again with the targets of that order. */
struct fw_design {
    char name[32];
    const char *pattern;
    double direction_deg;
    size_t count; /* plots */
    /* Cut the field of a subdivision that is fresh: fills the regions of the
     * plots and of common ground, or makes whole false. */
    enum fw_status (*cut)(const void *data, struct fw_plots *plots,
                          struct fw_error *err);
    const void *data;
};

/* Make the design and put it on the list, in grazing order from the request's
 * start. Not whole: nothing is added. */
enum fw_status fw_layout__offer(const struct fw_layout_request *request,
                                const struct fw_layout_shares *shares,
                                const struct fw_design *design,
                                struct fw_layout_list *list,
                                struct fw_error *err);

/* The layout of the design with so much behind each of its cuts, in the order
 * of its plots. Not whole: there is none. */
enum fw_status fw_layout__cut(const struct fw_layout_request *request,
                              const struct fw_design *design,
                              const double *behind, struct fw_layout *out,
                              bool *whole, struct fw_error *err);

/* Cuts, order and what each paddock holds, until they agree. only: there is no
 * other layout yet. out, {0} before: no paddocks when they do not. */
enum fw_status fw_layout__settle(const struct fw_layout_request *request,
                                 const struct fw_layout_shares *shares,
                                 const struct fw_design *design, bool only,
                                 struct fw_layout *out, struct fw_error *err);

/* What a paddock or common ground of it has of that ground; NaN: there is no
 * memory. */
double fw_layout__holds_kg(const struct fw_layout *layout,
                           const struct fw_field *field, size_t paddock,
                           const struct fw_herbage *ground);

/* The line that the design needs with the shares' targets in plot order;
 * infinite when it cannot be made. */
enum fw_status fw_layout__measure(const struct fw_layout_request *request,
                                  const struct fw_layout_shares *shares,
                                  const struct fw_design *design,
                                  double *line_m, struct fw_error *err);

/* All of a pattern's candidates. No candidate is no error. */
typedef enum fw_status
fw_pattern_function(const struct fw_layout_request *request,
                    const struct fw_layout_shares *shares,
                    struct fw_layout_list *list, struct fw_error *err);

struct fw_layout_pattern {
    const char *name;
    const char *what; /* one line for people */
    bool common;      /* it has lanes or an apron */
    fw_pattern_function *lay_out;
};

extern const struct fw_layout_pattern fw_layout__patterns[];
extern const size_t fw_layout__pattern_count;

fw_pattern_function fw_layout__strips, fw_layout__blocks, fw_layout__limbs,
    fw_layout__turning, fw_layout__lane, fw_layout__wedges, fw_layout__contour;

/* The layout of plots (in grazing order) and common ground. Fills the map of
 * *out and the figures that follow from it; pattern, name, direction and shares
 * are the caller's. Release it with fw_layout_release. */
enum fw_status fw_layout__finish(const struct fw_plots *plots,
                                 struct fw_layout *out, struct fw_error *err);

/* Who lies beside each piece of line: fills left, right and the lines' from
 * and to. */
enum fw_status fw_layout__beside(struct fw_layout *layout,
                                 struct fw_error *err);

/* The order in which the paddocks are grazed, from the start: order[rank] is
 * the plot. Also fills apart_count, turn_count, gate_m, far_first, keep and
 * barred (by rank). */
enum fw_status fw_layout__order(struct fw_layout *layout,
                                const struct fw_layout_request *request,
                                const struct fw_layout_shares *shares,
                                size_t *order, struct fw_error *err);

/* An order in which every paddock holds what its rank must hold (so much in
 * the first, the first two …) and each is reached, if one is found. */
enum fw_status fw_layout__order_for(struct fw_layout *layout,
                                    const struct fw_layout_request *request,
                                    const double *behind, size_t *order,
                                    bool *found, struct fw_error *err);

/* How far that place is from a paddock or common ground; 0 inside. */
double fw_layout__away_m(const struct fw_layout *layout,
                         const struct fw_field *field, size_t paddock,
                         struct fw_point from);

/* apart_count, turn_count and gate_m once more, of paddocks in grazing order
 * whose lines have moved. When more are apart, or the first is not the nearest
 * to the start any more, *worse is true and nothing has changed. */
enum fw_status fw_layout__reconsider(struct fw_layout *layout,
                                     const struct fw_field *field,
                                     const struct fw_point *start, bool *worse,
                                     struct fw_error *err);

/* Put the paddocks in that order. */
enum fw_status fw_layout__arrange(struct fw_layout *layout, const size_t *order,
                                  struct fw_error *err);

/* Shorten the lines by letting them bend at their ties and ends; the areas
 * stay, and no end goes past the start. What cannot be shortened stays as it
 * is. */
enum fw_status fw_layout__relax(struct fw_layout *layout,
                                const struct fw_field *field,
                                const struct fw_point *start,
                                struct fw_error *err);

/* Is it still a map with its added vertices at these places? */
bool fw_layout__is_plain(const struct fw_layout *layout,
                         const struct fw_field *field,
                         const struct fw_point *at);

/* Of a layout's vertex. */
struct fw_point fw_layout__point(const struct fw_layout *layout,
                                 const struct fw_field *field, size_t vertex);

#endif
