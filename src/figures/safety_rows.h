/* Safety: what is no rule of its own; the rules are src/safety/rules.c. */
/* clang-format off */

#define INDUCED_CASE                                                           \
    "3 km beside 345 kV, 9.144 m off: just under 30 mA through 1,000 ohm: "    \
    "Modelica Standard Library, PowerLineWithFence"
FIGURE(INDUCED_MA_KM, "induced.current", 10, "mA/km", 10, 10, COMPUTED,
    "current through a person at a fence wire beside a line of 345 kV",
    INDUCED_CASE, "src/safety/rules.c")
FIGURE(INDUCED_KV, "induced.voltage", 345, "kV", 345, 345, COMPUTED,
    "of the one line that this was worked out for", INDUCED_CASE,
    "src/safety/rules.c")
FIGURE(CROSSING_MOST_M, "crossing.most", 0.5, "m", 0.5, 0.5, PRACTICE,
    "a line that lies on a thing for no longer crosses it", OWN,
    "src/safety/crossing.c")

/* What power lines are built for, in kilovolts. What a map gives beside these
 * is a slip of the pen, another unit or no voltage at all. */
#define NOMINAL(id, word, what, mark, source, ...)                             \
    SIZES(NOMINAL_##id, "voltage." word, LIST(__VA_ARGS__), "kV", mark,        \
          "voltages of lines: " what, source, "src/safety/voltage.c")
NOMINAL(LOW_KV, "low", "to 1 kV", PUBLISHED,
    "IEC 60038:2009 table 1, with the 220/380 V and 240/415 V that it replaced; "
    "ANSI C84.1-1989 table 1, low voltage class",
    0.12, 0.208, 0.22, 0.23, 0.24, 0.277, 0.347, 0.38, 0.4, 0.415, 0.48,
    0.6, 0.69, 1)
NOMINAL(TRACTION_KV, "traction", "traction", PUBLISHED,
    "IEC 60038 table 2; 15 kV too", 0.75, 1.5, 3, 15, 25)
NOMINAL(MEDIUM_KV, "medium", "over 1 kV to 35 kV, both series", PUBLISHED,
    "IEC 60038 table 3", 3.3, 4.16, 6, 6.6, 10, 11, 12.47, 13.2, 13.8, 20,
    22, 22.9, 24.94, 30, 33, 34.5, 35)
NOMINAL(AMERICAN_KV, "american",
    "between phases and, of four wires, from phase to earth", PUBLISHED,
    "ANSI C84.1-1989 table 1, medium voltage class", 2.4, 4.8, 6.93, 7.2,
    7.62, 7.97, 8.32, 12, 14.4, 19.92, 20.78, 22.86)
NOMINAL(ONE_WIRE_KV, "one-wire", "one wire with the earth as return", MEMORY,
    "from memory", 12.7, 19.1)
NOMINAL(HIGH_KV, "high", "over 35 kV to 230 kV", PUBLISHED,
    "IEC 60038 table 4", 45, 66, 69, 110, 115, 132, 138, 150, 220, 230)
NOMINAL(HIGHEST_KV, "highest", "over 230 kV", MEMORY,
    "of IEC 60038 table 5, which names the highest voltages 300 to 1200 kV "
    "alone, and of ANSI C84.1; from memory but for 345, 500, 765 and 1100",
    275, 330, 345, 380, 400, 420, 500, 750, 765, 800, 1000, 1100, 1150,
    1200)
NOMINAL(OLDER_KV, "older", "older or of one country", MEMORY, "from memory",
    16, 46, 50, 60, 63, 65, 90, 120, 130, 154, 161, 225, 300, 315, 735)
#undef NOMINAL
