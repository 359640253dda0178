/* How long it takes to choose up to three points of water for a plan, with the
 * ways that are walked to them, and to fill the table. The best of several runs
 * counts; a slow machine may set FW_BENCH_FACTOR to widen the limits. */
#include "round_farm.h"

#include "haul/placing.h"
#include "make/make.h"
#include "plan/plan.h"

static double water_s(const struct fw_plan *plan, enum fw_placing_by by,
                      int runs, size_t *places)
{
    double best = HUGE_VAL;
    for (int i = 0; i < runs; i++) {
        struct fw_placing placing;
        struct fw_hauled_table table;
        struct fw_error err = {0};
        const double start_s = now_s();
        if (fw_placing_make(plan, &placing, &err) ||
            fw_hauled_make(plan, &placing, by, 3, &table, &err)) {
            fprintf(stderr, "%s\n", err.text);
            exit(99);
        }
        best = fmin(best, now_s() - start_s);
        *places = placing.place_count;
        fw_placing_release(&placing);
    }
    return best;
}

static const struct {
    size_t vertices;
    int paddocks, runs;
    double limit_s;
    const char *name, *farm;
} rows[] = {
    {50, 30, 10, 20e-3, "growth", ""},
    {1000, 365, 3, 200e-3, "growth", ""},
    {1000, 365, 3, 200e-3, "dormant", "season: dormant\nback-fence: no\n"},
};

static const struct {
    enum fw_placing_by by;
    const char *name;
} measures[] = {{FW_PLACING_WORST, "longest"},
                {FW_PLACING_MEAN, "mean"},
                {FW_PLACING_MINUTES, "minutes"}};

static bool is_slow(size_t i, const char *folder, double factor)
{
    bool slow = false;
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    write_farm(folder, rows[i].vertices, rows[i].paddocks, rows[i].farm);
    struct fw_farm *farm = read_farm(folder);
    if (fw_plan_make(farm, &plan, &err)) {
        fprintf(stderr, "%s\n", err.text);
        exit(99);
    }
    for (size_t k = 0; k < sizeof measures / sizeof *measures; k++) {
        size_t places = 0;
        const double s = water_s(plan, measures[k].by, rows[i].runs, &places);
        const double limit_s = rows[i].limit_s * factor;
        printf("%-8s %-8s %8d %8zu %10.2f %10.1f%s\n", rows[i].name,
               measures[k].name, rows[i].paddocks, places, 1e3 * s,
               1e3 * limit_s, s > limit_s ? "  too slow" : "");
        slow |= s > limit_s;
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
    return slow;
}

int main(void)
{
    char folder[] = "/tmp/foldwright-water-XXXXXX";
    const double factor = bench_factor();
    int slow = 0;
    if (!mkdtemp(folder))
        return 99;
    printf("%-8s %-8s %8s %8s %10s %10s\n", "season", "by", "paddocks",
           "places", "best ms", "limit ms");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        slow += is_slow(i, folder, factor);
    remove_farm(folder);
    return slow > 0;
}
