/* What walked covers say: how many days are ahead, and whether what grows keeps
 * up with what is eaten. */
#ifndef FW_MAKE_COVERS_H
#define FW_MAKE_COVERS_H

#include "choice/choice.h"

enum fw_covers_do {
    FW_COVERS_UNTOLD, /* growth is not told, of one walked field at least */
    FW_COVERS_GO_ON,
    FW_COVERS_SLOW_DOWN, /* less grows than is eaten: that, or buy feed */
    FW_COVERS_SHUT_UP    /* so much more grows that a field can be shut up */
};

struct fw_covers {
    size_t walked; /* fields; 0: there is no answer, and the rest is 0 */
    double area_ha, usable_kg; /* of these */
    double demand_kg_day, days;
    double grown_kg_day; /* on the first day; NaN: not told */
    enum fw_covers_do what;
    size_t
        shut; /* the largest field without which the others still grow what
                 is eaten; FW_NONE: there is none, or none is to be shut up */
};

/* FW_EINPUT: a walked field's grass, the flock or the first day is not told, or
 * not as it can be. */
enum fw_status fw_covers_look(const struct fw_farm *farm, struct fw_covers *out,
                              struct fw_error *err);

#endif
