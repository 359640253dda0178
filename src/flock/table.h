/* What the two files about water share. */
#ifndef FW_FLOCK_TABLE_H
#define FW_FLOCK_TABLE_H

/* Litres by weight, from a row of the register at its three weights: straight
 * lines between them, beyond them the share of live weight of the nearest. */
double fw_flock__ewe_l(const double litres[3], double weight_kg);

#endif
