/* Days of the calendar. A date is a count of days since 1970-01-01, so that
 * adding and comparing are plain arithmetic. Gregorian, years 1900 to 2200. */
#ifndef FW_DATE_H
#define FW_DATE_H

#include <foldwright/error.h>
#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

#define FW_DATE_TEXT 11 /* room for "2026-05-04" and its end */
#define FW_NO_DAY (-1000000)
enum { FW_COMMON_YEAR = 2001 }; /* one without a leap day */
#define FW_LAST_DAY 84370       /* 2200-12-31: no plan goes beyond it */

/* Read "2026-05-04"; anything else is FW_EINPUT and leaves *day alone. */
FW_API enum fw_status fw_date_read(const char *text, int *day,
                                   struct fw_error *err);

/* Write the date as ISO 8601; "" for FW_NO_DAY. Returns text. */
FW_API const char *fw_date_write(int day, char text[FW_DATE_TEXT]);

/* 0 is Monday, 6 is Sunday. */
FW_API int fw_date_weekday(int day);

/* 1 is January. */
FW_API int fw_date_month(int day);

FW_API int fw_date_year(int day);

/* The first day of a month; 0 and 13 are the months before and after that
 * year's. */
FW_API int fw_date_first(int year, int month);

#ifdef __cplusplus
}
#endif
#endif
