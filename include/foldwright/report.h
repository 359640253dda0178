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

struct fw_report_out {
    const char *crs;   /* of plan.gpkg; NULL: the plan's own */
    long long epoch_s; /* the time to stamp; negative: the plan's first day */
    bool force;        /* over files that no plan there lists as well */
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
