/* What is written and printed, one file of source for each. */
#ifndef FW_REPORT_H
#define FW_REPORT_H

#include <foldwright/error.h>
#include <foldwright/plan.h>
#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* How a page is printed; the bits add up. */
enum fw_report_how {
    FW_REPORT_COLOUR = 1 << 0,
    FW_REPORT_ALL = 1 << 1 /* what is else only counted, too */
};

/* The report that a shepherd reads in a minute. */
FW_API enum fw_status fw_report_text(const struct fw_plan *plan, unsigned how,
                                     char **out, struct fw_error *err);

/* The card for one move. After the first one it tells the dangers that touch
 * the ground of the day, and counts the rest. */
FW_API enum fw_status fw_report_move(const struct fw_plan *plan, size_t move,
                                     unsigned how, char **out,
                                     struct fw_error *err);

/* The page of cautions; plan NULL: all of them. */
FW_API enum fw_status fw_report_cautions(const struct fw_plan *plan, char **out,
                                         struct fw_error *err);

/* The files of a plan as bytes. */
FW_API enum fw_status fw_report_geojson(const struct fw_plan *plan, char **out,
                                        size_t *count, struct fw_error *err);
FW_API enum fw_status fw_report_gpx(const struct fw_plan *plan, size_t move,
                                    char **out, size_t *count,
                                    struct fw_error *err);
FW_API enum fw_status fw_report_moves_csv(const struct fw_plan *plan,
                                          char **out, size_t *count,
                                          struct fw_error *err);
FW_API enum fw_status fw_report_materials_csv(const struct fw_plan *plan,
                                              char **out, size_t *count,
                                              struct fw_error *err);

/* FW_EOUTPUT: this machine has no font to print with, and what to install. */
FW_API enum fw_status fw_report_can_print(struct fw_error *err);

/* The field sheet: each field's map to scale, the moves, the materials, the
 * cautions. The form is "pdf", or "svg" or "png", which have the maps alone. It
 * says that it was made at that time; negative: the plan's first day.
 * FW_EOUTPUT: this machine has no font. */
FW_API enum fw_status fw_report_sheet(const struct fw_plan *plan,
                                      const char *form, long long epoch_s,
                                      char **out, size_t *count,
                                      struct fw_error *err);

/* The pocket card of the seven days from a move on, as PDF; that of the first
 * move says what comes before it. FW_EUSAGE: there is no such move. */
FW_API enum fw_status fw_report_card(const struct fw_plan *plan, size_t move,
                                     long long epoch_s, char **out,
                                     size_t *count, struct fw_error *err);

/* map.html: a page that shows the plan day by day in a browser, from a disk and
 * without a network. `tiles` is the address of a map to lie below it, as
 * "https://maps.example/{z}/{x}/{y}.png"; NULL: none. FW_EUSAGE: it is no such
 * address. */
FW_API enum fw_status fw_report_map_page(const struct fw_plan *plan,
                                         const char *tiles, char **out,
                                         size_t *count, struct fw_error *err);
FW_API enum fw_status fw_report_tiles_check(const char *tiles,
                                            struct fw_error *err);

/* What is written besides the data; the bits add up. */
enum fw_report_files {
    FW_REPORT_PRINTED = 1 << 0, /* card.pdf, sheet.pdf */
    FW_REPORT_SVG = 1 << 1,     /* sheet.svg */
    FW_REPORT_PNG = 1 << 2,     /* sheet.png */
    FW_REPORT_PAGE = 1 << 3     /* map.html */
};

struct fw_report_out {
    const char *crs;   /* of plan.gpkg; NULL: the plan's own */
    long long epoch_s; /* the time to stamp; negative: the plan's first day */
    bool force;        /* over files that no plan there lists as well */
    unsigned files;    /* enum fw_report_files; 0: the data alone */
    const char *tiles; /* of map.html; NULL: none */
};

/* Write every file of the plan into the folder, as a set (fw_set_begin) with
 * plan.json last. */
FW_API enum fw_status fw_report_folder(const struct fw_plan *plan,
                                       const char *folder,
                                       const struct fw_report_out *how,
                                       struct fw_error *err);

#ifdef __cplusplus
}
#endif
#endif
