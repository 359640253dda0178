/* Which way the winter's grass goes, over the whole range of its settings. */
#include "draw.h"
#include "stockpile/stockpile.h"
#include <foldwright/figures.h>

enum { draws = 100000 };

static struct fw_stockpile_winter any_winter(uint64_t *seed)
{
    size_t count;
    const struct fw_stockpile_line *lines = fw_stockpile_lines(&count);
    const struct fw_stockpile_line *line =
        &lines[(size_t)(draw(seed, 0, (double)count - 1e-9))];
    const int year = (int)draw(seed, 2020, 2040);
    return (struct fw_stockpile_winter){
        .line = line,
        .loss = draw(seed, 0, 0.75),
        .nitrogen_gain = draw(seed, 0, 1) < 0.5 ? 0 : draw(seed, 5, 20),
        .base_nitrogen_kg_ha = -1,
        .frost_day = fw_stockpile_day(year, (int)draw(seed, 260, 349)),
        .break_days = draw(seed, 0, 1) < 0.2 ? 0 : draw(seed, 0.5, 14),
        .lat_deg = draw(seed, 0, 66),
    };
}

static struct fw_stockpile_part any_part(uint64_t *seed,
                                         const struct fw_stockpile_winter *w)
{
    const double stop_m = draw(seed, 0.02, 0.12);
    struct fw_stockpile_part part = {
        .name = "part",
        .area_ha = draw(seed, 0.01, 100),
        .grazed_day =
            (int)draw(seed, fw_stockpile_day(fw_date_year(w->frost_day), 100),
                      w->frost_day - 1),
        .left_m = stop_m,
        .topped_day = FW_NO_DAY,
        .nitrogen_kg_ha = draw(seed, -112, 112),
        .stop_m = stop_m,
        .density_kg_ha_m = draw(seed, 4000, 20000),
    };
    if (draw(seed, 0, 1) < 0.5)
        part.left_m += draw(seed, 0, 0.4);
    return part;
}

/* Nothing below nothing, nothing above the sward's ceiling, shares that are
 * shares; days at need never beyond what the mass by itself would be. */
static void check_stand(const struct fw_stockpile_part *part,
                        const struct fw_stockpile_winter *winter,
                        const struct fw_stockpile_stand *stand, uint64_t *seed)
{
    const double ceiling = fw_figures_find("forage.ceiling")->value;
    assert_true(stand->mass_kg_ha >= 0 && stand->mass_kg_ha <= ceiling);
    assert_true(stand->digest >= 0.393 - 1e-12 && stand->digest <= 0.852);
    assert_true(stand->digest <= stand->digest_best + 1e-12);
    assert_true(stand->dead >= 0 && stand->dead <= 1);
    assert_true(stand->old_share >= 0 && stand->old_share <= 1);
    const double share = fw_stockpile_share(winter->break_days, stand->dead);
    assert_true(share > 0 && share <= 0.7);
    struct fw_stockpile_flock flock = {.head = draw(seed, 1, 1000),
                                       .weight_kg = draw(seed, 30, 120)};
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++) {
        struct fw_stockpile_fed fed;
        flock.need_kg[k] = flock.weight_kg * draw(seed, 0.014, 0.035);
        const double taken_kg = share * stand->mass_kg_ha * part->area_ha;
        fw_stockpile_feeds(&flock, (enum fw_stockpile_class)k, stand->digest,
                           stand->protein, taken_kg, &fed);
        assert_true(fed.other_kg >= 0);
        assert_true(fed.grass_kg <= fed.limit_kg + 1e-12);
        assert_true(fed.days_at_need >= 0);
        assert_true(fed.days_at_need <=
                    stand->mass_kg_ha * part->area_ha /
                            (flock.head * flock.need_kg[k]) +
                        1e-9);
        assert_true(fed.other_kg <= 0 || fed.days_at_need <= 0);
    }
}

static void later_is_less_mass_and_no_less_quality(void **state)
{
    (void)state;
    uint64_t seed = seeded(20261126);
    int complete = 0, topped = 0;
    for (int i = 0; i < draws; i++) {
        const struct fw_stockpile_winter winter = any_winter(&seed);
        const struct fw_stockpile_part part = any_part(&seed, &winter);
        struct fw_stockpile_part later = part;
        struct fw_stockpile_stand a, b;
        later.grazed_day =
            (int)draw(&seed, part.grazed_day, winter.frost_day - 1);
        const int day = winter.frost_day + (int)draw(&seed, 0, 200);
        fw_stockpile_stands(&part, &winter, day, &a);
        fw_stockpile_stands(&later, &winter, day, &b);
        if (b.mass_kg_ha > a.mass_kg_ha + 1e-9)
            fail_msg("draw %d: later by %d days stands more", i,
                     later.grazed_day - part.grazed_day);
        if (part.left_m <= part.stop_m) {
            complete++;
            if (b.digest < a.digest - 1e-12)
                fail_msg("draw %d: later is of less quality", i);
        }
        check_stand(&part, &winter, &a, &seed);
        check_stand(&later, &winter, &b, &seed);

        /* A complete cut that another one follows changes nothing. */
        struct fw_stockpile_part twice = part;
        twice.left_m = part.stop_m + draw(&seed, 0.01, 0.3);
        twice.topped_day = later.grazed_day;
        twice.topped_m = part.stop_m;
        later.left_m = later.stop_m;
        fw_stockpile_stands(&later, &winter, day, &a);
        fw_stockpile_stands(&twice, &winter, day, &b);
        assert_near(b.mass_kg_ha, a.mass_kg_ha, 1e-9);
        assert_near(b.digest, a.digest, 1e-12);
        topped++;
    }
    assert_true(complete > draws / 3 && topped == draws);
}

/* More days of feed in a break, or more that is dead: no more is taken. */
static void shares_fall(void **state)
{
    (void)state;
    uint64_t seed = seeded(7);
    for (int i = 0; i < draws; i++) {
        const double days = draw(&seed, 0.5, 20), dead = draw(&seed, 0, 1);
        const double share = fw_stockpile_share(days, dead);
        assert_true(fw_stockpile_share(days + draw(&seed, 0, 5), dead) <=
                    share + 1e-12);
        assert_true(fw_stockpile_share(days, dead + draw(&seed, 0, 0.5)) <=
                    share + 1e-12);
        const struct fw_stockpile_open open =
            fw_stockpile_open(draw(&seed, 1, 1e5), draw(&seed, 1, 1e5));
        assert_true(open.rank_share >= 0 &&
                    open.rank_share <= open.leafy_share);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(later_is_less_mass_and_no_less_quality),
        cmocka_unit_test(shares_fall),
    };
    return cmocka_run_group_tests_name("stockpile", tests, NULL, NULL);
}
