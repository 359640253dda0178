/* Units of people and trades in SI; all of them are exact. */
/* clang-format off */

FIGURE(FOOT_M, "unit.foot", 0.3048, "m", 0.3048, 0.3048, PUBLISHED,
    "one foot", YARD_AND_POUND,
    "src/figures/fence_rows.h src/figures/power_rows.h src/figures/say.c src/figures/water_rows.h src/make/kept.c "
    "src/make/wires.c src/paper/scale.c src/report/compare.c src/report/walk.c src/record/record.c src/export/materials.c")
FIGURE(INCH_M, "unit.inch", 0.0254, "m", 0.0254, 0.0254, PUBLISHED,
    "one inch", YARD_AND_POUND,
    "src/figures/forage_rows.h src/figures/say.c src/figures/stockpile_rows.h src/figures/water_rows.h src/figures/weather_rows.h src/make/kept.c src/make/wires.c "
    "src/paper/scale.c src/report/correct.c src/record/record.c src/water/pipe.c")
FIGURE(MILE_M, "unit.mile", 1609.344, "m", 1609.344, 1609.344, PUBLISHED,
    "one mile, 5,280 feet", YARD_AND_POUND, "src/figures/power_rows.h")
FIGURE(DEGREE_M, "unit.degree", 111000, "m", 110574, 111694, COMPUTED,
    "one degree of latitude, for what need not be exact",
    "the WGS 84 ellipsoid, at the equator and at the pole",
    "src/mapped/features.c src/mapped/near.c src/mapped/outline.c src/around/group.c "
    "src/around/safety.c")
FIGURE(ACRE_HA, "unit.acre", 0.40468564224, "ha", 0.40468564224, 0.40468564224,
    PUBLISHED, "one acre, 4,840 square yards", YARD_AND_POUND,
    "src/figures/forage_rows.h src/figures/growth_rows.h src/figures/say.c src/figures/stockpile_rows.h src/report/text_field.c")
FIGURE(POUND_KG, "unit.pound", 0.45359237, "kg", 0.45359237, 0.45359237,
    PUBLISHED, "one pound", YARD_AND_POUND,
    "src/figures/flock_rows.h src/figures/forage_rows.h src/figures/growth_rows.h src/figures/say.c src/figures/stockpile_rows.h src/picture/ahead_svg.c src/picture/ahead_winter_svg.c src/report/stockpile.c src/picture/stockpile_svg.c")
FIGURE(PSI_KPA, "unit.psi", 6.89475729317, "kPa", 6.89475729317,
    6.89475729317, COMPUTED, "one pound-force on a square inch",
    "the pound and the inch of 1959 and standard gravity, 9.80665 m/s2",
    "src/figures/say.c")
FIGURE(GALLON_L, "unit.gallon", 3.785411784, "L", 3.785411784, 3.785411784,
    PUBLISHED, "one US gallon, 231 cubic inches",
    "NIST Handbook 44, appendix C: exact",
    "src/figures/flock_rows.h src/figures/say.c src/water/pipe.c")
