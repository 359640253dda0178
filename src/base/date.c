#include "base/fail.h"
#include "base/text.h"
#include <foldwright/date.h>
#include <stdbool.h>
#include <string.h>

enum { first_year = 1900, last_year = 2200, days_in_400_years = 146097 };

static bool leap(int year)
{
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

static int month_days(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && leap(year));
}

/* Days from 1970-01-01 to the first of January. */
static int year_start(int year)
{
    const int before = year - 1;
    const int since_year_1 =
        365 * before + before / 4 - before / 100 + before / 400;
    const int year_1_to_1970 = 719162;
    return since_year_1 - year_1_to_1970;
}

static int digits(const char *text, int n)
{
    int value = 0;
    for (int i = 0; i < n; i++)
        value = 10 * value + (text[i] - '0');
    return value;
}

static bool has_shape(const char *text)
{
    static const char shape[] = "0000-00-00";
    if (strlen(text) != sizeof shape - 1)
        return false;
    for (size_t i = 0; shape[i]; i++) {
        const bool digit = text[i] >= '0' && text[i] <= '9';
        if (shape[i] == '-' ? text[i] != '-' : !digit)
            return false;
    }
    return true;
}

enum fw_status fw_date_read(const char *text, int *day, struct fw_error *err)
{
    if (!text || !day)
        return fw_fail_null(err, "a date, or where the day goes,");
    char shown[48];
    if (!has_shape(text))
        return fw_fail(err, FW_EINPUT,
                       "\"%s\" is not a date; write year-month-day, such as "
                       "\"2026-05-04\"",
                       fw_text_clip(text, shown, sizeof shown));
    const int year = digits(text, 4);
    const int month = digits(text + 5, 2);
    const int of_month = digits(text + 8, 2);
    if (year < first_year || year > last_year)
        return fw_fail(err, FW_EINPUT,
                       "\"%s\" is not a date here: the year is %d; expected "
                       "%d to %d",
                       text, year, first_year, last_year);
    if (month < 1 || month > 12)
        return fw_fail(err, FW_EINPUT,
                       "\"%s\" is not a date: the month is %d; expected 1 to "
                       "12, written year-month-day",
                       text, month);
    const int last = month_days(year, month);
    if (of_month < 1 || of_month > last)
        return fw_fail(err, FW_EINPUT,
                       "\"%s\" is not a date: the day is %d; that month has 1 "
                       "to %d",
                       text, of_month, last);

    int count = year_start(year) + of_month - 1;
    for (int before = 1; before < month; before++)
        count += month_days(year, before);
    *day = count;
    return FW_OK;
}

static void put_digits(char *text, int n, int value)
{
    for (int i = n - 1; i >= 0; i--, value /= 10)
        text[i] = (char)('0' + value % 10);
}

const char *fw_date_write(int day, char text[FW_DATE_TEXT])
{
    text[0] = '\0';
    if (day < year_start(first_year) || day >= year_start(last_year + 1))
        return text;

    /* The mean year gives the year or the one beside it. */
    int year = 1970 + (int)((long long)day * 400 / days_in_400_years);
    while (day < year_start(year))
        year--;
    while (day >= year_start(year + 1))
        year++;
    int left = day - year_start(year);
    int month = 1;
    for (; left >= month_days(year, month); month++)
        left -= month_days(year, month);

    memcpy(text, "0000-00-00", FW_DATE_TEXT);
    put_digits(text, 4, year);
    put_digits(text + 5, 2, month);
    put_digits(text + 8, 2, left + 1);
    return text;
}

int fw_date_weekday(int day)
{
    const int thursday = 3; /* 1970-01-01 */
    return ((day % 7 + thursday) % 7 + 7) % 7;
}

int fw_date_month(int day)
{
    char text[FW_DATE_TEXT];
    fw_date_write(day, text);
    return text[0] ? (text[5] - '0') * 10 + (text[6] - '0') : 0;
}

int fw_date_year(int day)
{
    char text[FW_DATE_TEXT];
    fw_date_write(day, text);
    return text[0] ? digits(text, 4) : 0;
}

int fw_date_first(int year, int month)
{
    if (month < 1)
        return fw_date_first(year - 1, month + 12);
    if (month > 12)
        return fw_date_first(year + 1, month - 12);
    int day = year_start(year);
    for (int before = 1; before < month; before++)
        day += month_days(year, before);
    return day;
}
