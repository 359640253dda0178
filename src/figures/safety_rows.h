/* Safety: what is no rule of its own; the rules are src/safety/rules.c. */
/* clang-format off */

FIGURE(INDUCED_MA_KM, "induced.current", 10, "mA/km", 10, 10, COMPUTED,
    "current through a person at a fence wire beside a line of 345 kV",
    "3 km beside 345 kV, 9.144 m off: just under 30 mA through 1,000 ohm: "
    "Modelica Standard Library, PowerLineWithFence", "src/safety/rules.c")
FIGURE(CROSSING_MOST_M, "crossing.most", 0.5, "m", 0.5, 0.5, PRACTICE,
    "a line that lies on a thing for no longer crosses it", OWN,
    "src/safety/crossing.c")
