/* Quantities as they are said to people: two or three digits, in the units that
 * the farm writes in. */
#ifndef FW_FIGURES_SAY_H
#define FW_FIGURES_SAY_H

#include "base/text.h"
#include <foldwright/figures.h>

#define FW_SAID 48

/* A distance that is measured is said no greater than it is, and one that is
 * wanted no smaller: what is too near never reads as far enough. What must not
 * be exceeded is the other way round. */
enum fw_toward { FW_NEAREST, FW_DOWN, FW_UP };

/* kg/ha in the unit that people read, and its word. */
double fw_in_mass_per_area(double kg_ha, enum fw_units units);
const char *fw_mass_per_area_unit(enum fw_units units);

/* Each fills and returns `text`, so that it can stand in a printf. */
const char *fw_say_number(double value, char text[FW_SAID]);
const char *fw_say_length(double m, enum fw_units units, char text[FW_SAID]);
const char *fw_say_temperature(double c, enum fw_units units,
                               char text[FW_SAID]);
const char *fw_say_area(double ha, enum fw_units units, char text[FW_SAID]);
const char *fw_say_mass(double kg, enum fw_units units, char text[FW_SAID]);
const char *fw_say_volume(double litres, enum fw_units units,
                          char text[FW_SAID]);
const char *fw_say_flow(double l_min, enum fw_units units, char text[FW_SAID]);
const char *fw_say_speed(double m_s, enum fw_units units, char text[FW_SAID]);
const char *fw_say_pressure(double kpa, enum fw_units units,
                            char text[FW_SAID]);
const char *fw_say_mass_per_area(double kg_ha, enum fw_units units,
                                 char text[FW_SAID]);

/* A height: whole centimetres or inches. */
const char *fw_say_height(double m, enum fw_units units, enum fw_toward toward,
                          char text[FW_SAID]);

/* A length that a rule asks for: whole feet, metres as they are. */
const char *fw_say_wanted(double m, enum fw_units units, enum fw_toward toward,
                          char text[FW_SAID]);

/* A length that was measured, to set beside `limit_m`; with a decimal below 10
 * and where the two would read alike. */
const char *fw_say_measured(double m, double limit_m, enum fw_units units,
                            enum fw_toward toward, char text[FW_SAID]);

/* A number rounded so, with that many decimals. */
double fw_say_round(double value, int decimals, enum fw_toward toward);

/* Add words in which {4 m} is a quantity in metric units, said in those of the
 * farm: {>4 m} at least and {<3 m} at most are never made less strict by it,
 * {20 to 25 cm} has the unit at its end. m, cm, kg, C; whole numbers. */
void fw_text_add_said(struct fw_text *text, const char *words,
                      enum fw_units units);

/* The same into room, what fits. Returns room. */
char *fw_say_words(const char *words, enum fw_units units, char *room,
                   size_t size);

#endif
