/* What every pattern is given, and the table of patterns. */
#ifndef FW_LAYOUT_PATTERN_H
#define FW_LAYOUT_PATTERN_H

#include <foldwright/layout.h>

/* How the field is shared out, whatever the pattern. */
struct fw_layout_shares {
    double *behind_m2; /* in the first, the first two … paddocks: count - 1 */
    double *ahead_m2;  /* the same from the far end */
    size_t count;      /* paddocks */
    size_t full_count;
    double last_share;
    double share;
    bool alike; /* the same from either end */
};

struct fw_layout_pattern {
    const char *name;
    /* The pattern's best layout. Fills pattern, direction_deg, partition,
     * broken_count and line_m; on failure nothing is left to release. */
    enum fw_status (*lay_out)(const struct fw_layout_request *request,
                              const struct fw_layout_shares *shares,
                              struct fw_layout *out, struct fw_error *err);
};

extern const struct fw_layout_pattern fw_layout__patterns[];
extern const size_t fw_layout__pattern_count;

enum fw_status fw_layout__share(const struct fw_layout_request *request,
                                struct fw_layout_shares *out,
                                struct fw_error *err);
void fw_layout__shares_release(struct fw_layout_shares *shares);

enum fw_status fw_layout__strips(const struct fw_layout_request *request,
                                 const struct fw_layout_shares *shares,
                                 struct fw_layout *out, struct fw_error *err);

#endif
