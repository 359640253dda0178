/* Bringing water with a tank: trips and minutes; and what a trough asks for
 * while the flock drinks. */
#ifndef FW_WATER_HAUL_H
#define FW_WATER_HAUL_H

#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

struct fw_haul {
    double tank_l;
    double payload_kg; /* that the vehicle carries, the tank's own weight off;
                          0: all that the tank holds */
    double trough_l;   /* of all that are filled on one trip; 0: whatever is
                          brought goes in */
    double road_m;     /* one way */
    double drive_m_min;
    double fill_l_min; /* at the source, and out of the tank again */
    double handle_min; /* hitching, hoses, lids: each trip */
};

struct fw_haul_sums {
    double carry_l;     /* on one trip: the least of tank, payload and trough */
    double trips_day;   /* on average */
    int trips;          /* over all days, whole ones */
    double trip_min;    /* one of them, with a full load */
    double minutes_day; /* on average */
    double minutes;     /* over all days */
};

/* FW_EINPUT: a value is out of its range. */
enum fw_status fw_water_haul(const struct fw_haul *haul, double litres_day,
                             double days, struct fw_haul_sums *out,
                             struct fw_error *err);

/* A day of frost: what stands in the trough freezes, so that it comes in
 * smaller hauls, and more of them. */
struct fw_frost {
    int hauls;
    double each_l;
    double minutes; /* NaN: the tank is not told */
};

/* haul->tank_l of 0: it is not told. FW_EINPUT: a value is out of its range. */
enum fw_status fw_water_frost(const struct fw_haul *haul, double litres_day,
                              struct fw_frost *out, struct fw_error *err);

/* How fast a flock empties a trough: print differs fivefold. */
enum fw_trough_rule {
    FW_TROUGH_FOUR_HOURS, /* the day's water within so many hours */
    FW_TROUGH_AT_ONCE,    /* so many litres a minute and head */
    FW_TROUGH_RULES
};

struct fw_trough {
    double refill_l_min; /* that keeps up with them */
    double peak_l_h;     /* drunk in the hour when most come */
    double empty_h;      /* until trough_l are gone; NaN: its size is not told,
                            or they drink nothing */
};

void fw_water_trough(enum fw_trough_rule rule, double litres_day, int head,
                     double trough_l, struct fw_trough *out);

/* "the day's water in 4 hours (Agriculture Victoria 2024)" */
const char *fw_water_trough_rule(enum fw_trough_rule rule);

/* What to have stored: two days, or six hours at the peak where that is more.
 */
double fw_water_stored_l(double litres_day, double peak_l_min);

#endif
