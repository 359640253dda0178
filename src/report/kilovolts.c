/* Volts beside what is wanted of them. */
#include "base/text.h"
#include "report/report.h"

#include <math.h>
#include <stdio.h>

/* A figure that is exact but for rounding stays what it is. */
static const double rounding = 1e-9;

double fw_report_down_kv(double volts)
{
    return floor(volts / 100 + rounding) / 10;
}

void fw_report_kv_beside(double has_v, double wanted_v, char has[FW_WORDS],
                         char wanted[FW_WORDS])
{
    for (int decimals = 1; decimals <= 3; decimals++) {
        const double parts = pow(10, decimals) / 1000;
        const double down = floor(has_v * parts + rounding);
        const double up = ceil(wanted_v * parts - rounding);
        fw_text_format(has, FW_WORDS, "%.*f", decimals, down / parts / 1000);
        fw_text_format(wanted, FW_WORDS, "%.*f", decimals, up / parts / 1000);
        if (has_v < wanted_v || down >= up)
            return;
    }
}
