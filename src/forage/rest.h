/* How long ground rests between two grazings.
 *
 * A rest is told by season: the least that a sward needs, and the longest after
 * which it is past its best. Each day of a rest counts by its own season, so
 * that one of 15 spring days is done in 15 days, one of 25 summer days in 25,
 * and one that begins in the one and ends in the other in between: there are no
 * steps on the first of a month. */
#ifndef FW_FORAGE_REST_H
#define FW_FORAGE_REST_H

/* The rest of the season in which that day is, in days: spring begins in March,
 * or in September south of the equator. */
double fw_rest_least_days(int day, double lat_deg);
double fw_rest_longest_days(int day, double lat_deg);

/* What share of the least, or of the longest, rest is done in the morning of
 * `to` where the flock left in that of `from`; 1: it is over. */
double fw_rest_least_share(int from, int to, double lat_deg);
double fw_rest_longest_share(int from, int to, double lat_deg);

#endif
