/* A row by the constant that it tells: FW_FIGURE_ID for FW_ID. */
#ifndef FW_FIGURES_FIGURES_H
#define FW_FIGURES_FIGURES_H

#include <foldwright/figures.h>

#define FIGURE(id, ...) FW_FIGURE_##id,
#define COUNT(id, ...) FW_FIGURE_##id,
#define CURVE(id, ...) FW_FIGURE_##id,
#define CHOICE(id, ...) FW_FIGURE_##id,
enum fw_figure_id {
#include "figures/pages.h"
    FW_FIGURE_COUNT
};
#include "figures/end.h"

const struct fw_figure *fw_figures__row(enum fw_figure_id id);

#endif
