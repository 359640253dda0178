/* Invented seasons, in which the grass is not what the plan says: what becomes
 * of the flock that follows the plan blindly, of one whose shepherd looks at
 * what they left and goes by the rule, and of one that goes by all looks.
 *
 * The sheep are simulated here, from outside: they eat what they need where it
 * is there, and no lower than the floor. FW_SEED chooses others, FW_SEASONS how
 * many. */
#include "draw.h"

#include "days/days.h"

enum { zones = 3, days_in_zone = 30, usual_seasons = 100 };

static const double pi = 3.14159265358979323846;

static double draw_normal(uint64_t *seed)
{
    const double u = draw(seed, 1e-12, 1), v = draw(seed, 0, 1);
    return sqrt(-2 * log(u)) * cos(2 * pi * v);
}

/* A paddock of 1 holds what they need where the plan is right: grass of two
 * and a half tonnes, four fifths of what stands above the residual. */
static const double use = 0.8;
static const struct fw_days_offer offer = {
    .stands_kg_ha = 2500,
    .residual_kg_ha = 1250,
    .taken_kg_ha = 1000,
    .floor_kg_ha = 700,
};

enum way { BLIND, RULE, EYE, WAYS };

struct counted {
    size_t days, in_band, short_days[WAYS], over_days[WAYS];
    double short_sum[WAYS], over_sum[WAYS], size_sum[WAYS];
};

static struct fw_days_look look_at(double stands_kg_ha, double size,
                                   uint64_t *seed, double *has)
{
    const double wants_kg_ha = offer.taken_kg_ha / size;
    const double eaten_kg_ha =
        fmin(wants_kg_ha, fmax(0, stands_kg_ha - offer.floor_kg_ha));
    const double left_kg_ha = stands_kg_ha - eaten_kg_ha;
    *has =
        use * (stands_kg_ha - offer.residual_kg_ha) * size / offer.taken_kg_ha;
    return (struct fw_days_look){
        .left_kg_ha = fmax(offer.floor_kg_ha,
                           left_kg_ha * (1 + 0.15 * draw_normal(seed))),
        .limit = eaten_kg_ha < wants_kg_ha,
        .size = size,
        .eaten = 1,
    };
}

static void one_day(struct fw_days_eye *eye, size_t zone, double stands_kg_ha,
                    double size[WAYS], uint64_t *seed, struct counted *sums)
{
    static const struct fw_days_when any = {.legume = false};
    const struct fw_days_guess guess = fw_days_eye_zone(eye, zone);
    const double share = stands_kg_ha / offer.stands_kg_ha;
    sums->in_band += share >= guess.low && share <= guess.high;
    sums->days++;
    for (int way = 0; way < WAYS; way++) {
        double has;
        const struct fw_days_look look =
            look_at(stands_kg_ha, size[way], seed, &has);
        sums->short_days[way] += has < 0.85;
        sums->over_days[way] += has > 1.15;
        sums->short_sum[way] += fmax(0, 1 - has);
        sums->over_sum[way] += fmax(0, has - 1);
        sums->size_sum[way] += size[way];
        if (way == RULE)
            size[way] *= 1 + fw_days_rule(&offer, &look, &any, NULL);
        if (way != EYE)
            continue;
        fw_days_eye_look(eye, zone, &offer, &look);
        fw_days_eye_wait(eye, 1);
        const double wanted =
            fw_days_wanted(&offer, fw_days_eye_zone(eye, zone), size[way]);
        size[way] *= 1 + fw_days_step(wanted, look.limit, &any, NULL);
    }
}

/* Each zone is off by a bias, and each of its days by a noise of its own; both
 * together by 30 % at most. */
static void one_season(uint64_t *seed, struct counted *sums)
{
    struct fw_days_eye *eye;
    double size[WAYS] = {1, 1, 1};
    assert_int_equal(fw_days_eye_new(zones, &eye, NULL), FW_OK);
    for (size_t zone = 0; zone < zones; zone++) {
        const double bias = draw(seed, -0.3, 0.3);
        const double noise = draw(seed, 0.02, 0.08);
        for (int way = 0; way < WAYS; way++)
            size[way] = 1;
        for (int day = 0; day < days_in_zone; day++) {
            const double off = bias + noise * draw_normal(seed);
            one_day(eye, zone,
                    offer.stands_kg_ha * (1 + fmin(fmax(off, -0.3), 0.3)), size,
                    seed, sums);
        }
    }
    fw_days_eye_free(eye);
}

static void say(const char *who, const struct counted *sums, enum way way)
{
    const double days = (double)sums->days;
    print_message(
        "# %s: %.1f %% of days over 15 %% short, %.1f %% over 15 %% "
        "beyond; %.1f %% of feed missing, %.1f %% beyond, ground %.3f\n",
        who, 100 * (double)sums->short_days[way] / days,
        100 * (double)sums->over_days[way] / days,
        100 * sums->short_sum[way] / days, 100 * sums->over_sum[way] / days,
        sums->size_sum[way] / days);
}

static void short_days_fall_by_two_thirds(void **state)
{
    (void)state;
    const char *told = getenv("FW_SEASONS");
    const int seasons = told ? atoi(told) : usual_seasons;
    uint64_t seed = seeded(20270517);
    struct counted sums = {0};
    for (int i = 0; i < seasons; i++)
        one_season(&seed, &sums);
    say("blindly by the plan", &sums, BLIND);
    say("by the rule alone", &sums, RULE);
    say("by all looks", &sums, EYE);
    const double band = (double)sums.in_band / (double)sums.days;
    print_message("# in all %d seasons, %zu days: the band of nine in ten "
                  "holds %.1f %% of days\n",
                  seasons, sums.days, 100 * band);
    assert_true((double)sums.short_days[EYE] <=
                (double)sums.short_days[BLIND] / 3);
    assert_true(band >= 0.85 && band <= 0.95);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(short_days_fall_by_two_thirds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
