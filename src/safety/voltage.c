/* The voltages that power lines are built for. What a map gives beside these
 * is a slip of the pen, another unit or no voltage at all. */
#include <foldwright/safety.h>

#include <math.h>

/* A map says 12.5 where the list has 12.47. */
static const double same_share = 0.005;

static const double nominal_kv[] = {
    /* IEC 60038:2009 table 1, with the 220/380 V and 240/415 V that it
     * replaced; ANSI C84.1-1989 table 1, low voltage class */
    0.12, 0.208, 0.22, 0.23, 0.24, 0.277, 0.347, 0.38, 0.4, 0.415, 0.48, 0.6,
    0.69, 1,
    /* IEC 60038 table 2, traction; 15 kV too */
    0.75, 1.5, 3, 15, 25,
    /* IEC 60038 table 3, over 1 kV to 35 kV, both series */
    3.3, 4.16, 6, 6.6, 10, 11, 12.47, 13.2, 13.8, 20, 22, 22.9, 24.94, 30, 33,
    34.5, 35,
    /* ANSI C84.1-1989 table 1, medium voltage class, between phases and, of
     * four wires, from phase to earth */
    2.4, 4.8, 6.93, 7.2, 7.62, 7.97, 8.32, 12, 14.4, 19.92, 20.78, 22.86,
    /* one wire with the earth as return (from memory) */
    12.7, 19.1,
    /* IEC 60038 table 4, over 35 kV to 230 kV */
    45, 66, 69, 110, 115, 132, 138, 150, 220, 230,
    /* of table 5, which names the highest voltages 300 to 1200 kV alone, and of
     * ANSI C84.1 above 230 kV; from memory but for 345, 500, 765 and 1100 */
    275, 330, 345, 380, 400, 420, 500, 750, 765, 800, 1000, 1100, 1150, 1200,
    /* older or of one country (from memory) */
    16, 46, 50, 60, 63, 65, 90, 120, 130, 154, 161, 225, 300, 315, 735};

bool fw_safety_is_nominal_kv(double kv)
{
    for (size_t i = 0; i < sizeof nominal_kv / sizeof nominal_kv[0]; i++)
        if (fabs(kv - nominal_kv[i]) <= same_share * nominal_kv[i])
            return true;
    return false;
}
