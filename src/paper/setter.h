/* Words set by pango, for measuring and for drawing alike. */
#ifndef FW_PAPER_SETTER_H
#define FW_PAPER_SETTER_H

#include "paper/paper.h"

#include <pango/pangocairo.h>

struct fw_setter {
    PangoFontMap *map;
    PangoContext *context;
    PangoLayout *layout;
    PangoFontDescription *font;
};

/* The layout with those words, until the next call; where its ink's box begins
 * and how great it is, in points. */
PangoLayout *fw_paper__set(const struct fw_setter *setter, const char *words,
                           const struct fw_type *type, struct fw_box *box);

#endif
