/* The register of figures: every constant that reaches a result, with its
 * range, where it is from, and who uses it.
 *
 * The figures themselves are told in src/figures, one page of rows a subject,
 * and nowhere else. A figure that a farm file may tell has that key as its
 * name. Units are SI, as in the code: "m", "kg/ha", "share" of 1. */
#ifndef FW_FIGURES_H
#define FW_FIGURES_H

#include <foldwright/error.h>

#ifdef __cplusplus
extern "C" {
#endif

/* What people measure in. */
enum fw_units { FW_METRIC, FW_US };

enum fw_mark {
    FW_MARK_PUBLISHED, /* seen on the page that is named */
    FW_MARK_COMPUTED,  /* from figures that are named */
    FW_MARK_MEMORY,    /* not yet seen on a page */
    FW_MARK_PRACTICE,  /* common practice, no source */
    FW_MARK_COUNT
};

/* "published", "computed", "from memory", "common practice". */
FW_API const char *fw_figures_mark(enum fw_mark mark);

#define FW_FIGURE_POINTS 17

struct fw_figure {
    const char *name;    /* "fence.post-gap" */
    const char *subject; /* the folder, and the page of the guide: "fence" */
    const char *what;    /* "the widest gap between two posts" */
    const char *word;    /* a choice: "leapfrog"; NULL: it is a number */
    const char *unit;    /* "m"; "" for a count */
    double value;        /* of a curve, a list, a choice: 0 */
    double least, most;  /* a farm file's key: what it may be; else the range
                            in print; both the value: none is known */
    int points;          /* of a curve or a list of sizes; 0: one number */
    const char *at_unit; /* of a curve: what it goes by, "kg"; else NULL */
    double at[FW_FIGURE_POINTS], values[FW_FIGURE_POINTS];
    enum fw_mark mark;
    const char *source; /* who, what, year, table */
    const char *used;   /* files of the sources, a space between: where */
};

/* All of them, subject by subject. */
FW_API const struct fw_figure *fw_figures(size_t *count);

/* NULL: none has that name. */
FW_API const struct fw_figure *fw_figures_find(const char *name);

#ifdef __cplusplus
}
#endif
#endif
