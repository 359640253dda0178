/* Moves: openings. */
/* clang-format off */

FIGURE(OPENING_DRINK_M, "opening.drink", 1.5, "m", 1.5, 1.5, PRACTICE,
    "opening that they go through to drink, in ones and twos", COMMON,
    "src/moves/ground.c")
FIGURE(OPENING_WAY_M, "opening.way", 5, "m", 5, 5, PRACTICE,
    "opening that a way is thought to lead through before it is known", OWN,
    "src/moves/ways.c")
