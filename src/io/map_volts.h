/* The columns of a map that speak of a voltage. */
#ifndef FW_IO_MAP_VOLTS_H
#define FW_IO_MAP_VOLTS_H

#include <stdbool.h>
#include <stddef.h>

/* "voltage", "VOLT_CLASS", "kv", "line_kV", "Nennspannung". */
bool fw_io__is_of_voltage(const char *name);

/* Of tags such as "cables"=>"3","voltage"=>"110000" the values of those that
 * speak of a voltage, ';' between them; one that does not fit is left out. */
void fw_io__tags_of_voltage(const char *tags, char *room, size_t size);

#endif
