/* Voltages of power lines, as maps write them. */
#ifndef FW_MAPPED_VOLTAGE_H
#define FW_MAPPED_VOLTAGE_H

#include "keys/reader.h"

/* What a number without a unit is in. Under 1,000 it may be either where
 * neither the column's name nor its other values say so. */
enum fw_farm__volt_unit { FW_FARM__EITHER, FW_FARM__VOLTS, FW_FARM__KILOVOLTS };

/* "kv" and "line_kV" say kilovolts, "volts" and "voltage_v" volts. */
enum fw_farm__volt_unit fw_farm__volt_unit_of(const char *column);

/* Does the text speak plainly of volts (a number over 1,000, or a unit), or of
 * kilovolts? Adds to what is known. */
void fw_farm__volt_units_in(const char *text, bool *volts, bool *kilovolts);

struct fw_farm__voltage {
    bool told;   /* there is a number over 0 */
    double kv;   /* the highest; negative: no standard voltage */
    bool either; /* and it would be a standard one in volts too */
};

/* "110 kV", "110,000", "20000;400", "0,4", "230/400 V". */
struct fw_farm__voltage fw_farm__voltage(const char *text,
                                         enum fw_farm__volt_unit bare);

/* ---- power_lines.c: the power lines of one map ---- */

struct fw_farm__power_lines {
    const struct fw_map *map;
    const struct fw_farm__map *told;
    double told_kv; /* for all of them; negative: nothing of use */
    enum fw_farm__volt_unit *units; /* by volt column of the map */
    size_t untold, odd, either;     /* lines near a field */
    char first_odd[80], first_either[80];
};

enum fw_status fw_farm__power_lines_init(struct fw_farm__power_lines *lines,
                                         const struct fw_map *map,
                                         const struct fw_farm__map *told,
                                         struct fw_notes *notes,
                                         struct fw_error *err);
void fw_farm__power_lines_release(struct fw_farm__power_lines *lines);

/* The voltage of one of them. */
enum fw_status fw_farm__power_line(struct fw_farm__power_lines *lines,
                                   const struct fw_feature *feature,
                                   struct fw_farm_feature *out,
                                   struct fw_error *err);

/* What was read with doubt. */
enum fw_status
fw_farm__power_lines_tell(const struct fw_farm__power_lines *lines,
                          struct fw_notes *notes, struct fw_error *err);

#endif
