/* What is written for other programs, and of the materials for people too. */
#ifndef FW_EXPORT_DATA_H
#define FW_EXPORT_DATA_H

#include "io/io.h"
#include "report/report.h"

/* How much of a material is bought, and its unit: what is sold by length is
 * counted in the farm's units. */
const char *fw_export_amount(const struct fw_material *row, enum fw_units units,
                             char text[FW_WORDS]);

/* "12 packs of 25: 280 are needed and 14 spare"; nothing where it is sold
 * singly and none is spare. */
void fw_export_bought(struct fw_text *words, const struct fw_material *row,
                      enum fw_units units, bool only_rest);

/* A list to buy: the kit of a plan or a new fence round fields. */
struct fw_export_list {
    const struct fw_material *rows; /* settled */
    size_t count;
    enum fw_units units;
    const char *currency;
    bool only_rest;                     /* less what the farm has */
    const struct fw_fence_terms *terms; /* NULL: not told by the year */
    double line_m;                      /* of the fence, with terms */
    const char *lacks;                  /* what it leaves out */
};

/* What a list leaves out: of a new fence, of a plan's kit. */
extern const char fw_export_perimeter_lacks[], fw_export_kit_lacks[];

enum fw_status fw_report_materials(const struct fw_export_list *list,
                                   char **out, struct fw_error *err);

/* The layers of plan.gpkg in its coordinate system (crs NULL: the plan's);
 * FW_REPORT_LAYERS tables. */
#define FW_REPORT_LAYERS 13
enum fw_status fw_report_tables(const struct fw_plan *plan, const char *crs,
                                struct fw_table tables[FW_REPORT_LAYERS],
                                struct fw_error *err);

/* The same facts as of the reports for machines, as JSON. */
enum fw_status fw_report_power_json(const struct fw_plan *plan,
                                    const struct fw_circuit_fit *fit,
                                    const struct fw_plan_power_day *rows,
                                    char **out, struct fw_error *err);
enum fw_status fw_report_check_json(const struct fw_farm *farm, char **out,
                                    struct fw_error *err);
enum fw_status fw_report_move_json(const struct fw_plan *plan, size_t move,
                                   char **out, struct fw_error *err);
/* The same, and what today's weather comes to; NULL: nobody told of it. */
struct fw_weather;
enum fw_status fw_report_move_json_in(const struct fw_plan *plan, size_t move,
                                      const struct fw_weather *weather,
                                      char **out, struct fw_error *err);
enum fw_status fw_report_materials_json(const struct fw_export_list *list,
                                        char **out, struct fw_error *err);

#endif
