/* How much time of one core the choice takes beyond the layouts themselves:
 * time, replay and judgement of every candidate, ways and rooms of the leaders.
 * The best of several runs counts; a slow machine may set FW_BENCH_FACTOR to
 * widen the limits. */
#include "round_farm.h"

#include "geo/geo.h"
#include "make/make.h"
#include "plan/plan.h"
#include <foldwright/layout.h>

static double compare_s(const struct fw_farm *farm, int runs, size_t *count)
{
    double best = HUGE_VAL;
    for (int i = 0; i < runs; i++) {
        struct fw_plan_scores scores;
        struct fw_error err = {0};
        const double start_s = now_s();
        if (fw_plan_compare(farm, &scores, &err)) {
            fprintf(stderr, "%s\n", err.text);
            exit(99);
        }
        best = fmin(best, now_s() - start_s);
        *count = scores.count;
        fw_plan_scores_release(&scores);
    }
    return best;
}

/* All layouts of the same field into as many paddocks. */
static double layouts_s(const struct fw_farm *farm, int paddocks, int runs)
{
    const struct fw_farm_field *field = &farm->fields[0];
    const double target = field->grazed->area_m2 / paddocks;
    const struct fw_layout_request request = {
        .field = field->grazed,
        .target = &target,
        .target_count = 1,
        .start = &field->gate.point,
    };
    double best = HUGE_VAL;
    for (int i = 0; i < runs; i++) {
        struct fw_layout_list list = {0};
        const double start_s = now_s();
        if (fw_layout_candidates(&request, &list, NULL))
            exit(99);
        best = fmin(best, now_s() - start_s);
        fw_layout_list_release(&list);
    }
    return best;
}

/* Comparing lays out twice, once for the choice and once to list them all; that
 * all of them are walked then, which no choice needs, is counted too. */
static double choice_s(const struct fw_farm *farm, int paddocks, int runs,
                       size_t *count)
{
    return compare_s(farm, runs, count) / 2 - layouts_s(farm, paddocks, runs);
}

static const struct {
    size_t vertices;
    int paddocks, runs;
    double limit_s;
    const char *name, *farm;
} rows[] = {
    {50, 30, 40, 3e-3, "growth", ""},
    {50, 30, 40, 3e-3, "dormant", "season: dormant\nback-fence: no\n"},
    {1000, 365, 10, 40e-3, "growth", ""},
    {1000, 365, 10, 40e-3, "dormant", "season: dormant\nback-fence: no\n"},
};

int main(void)
{
    char folder[] = "/tmp/foldwright-choose-XXXXXX";
    const double factor = bench_factor();
    int slow = 0;
    if (!mkdtemp(folder))
        return 99;
    printf("%-8s %8s %8s %10s %10s %10s\n", "season", "vertices", "paddocks",
           "layouts", "best ms", "limit ms");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        size_t count = 0;
        write_farm(folder, rows[i].vertices, rows[i].paddocks, rows[i].farm);
        struct fw_farm *farm = read_farm(folder);
        const double s = choice_s(farm, rows[i].paddocks, rows[i].runs, &count);
        const double limit_s = rows[i].limit_s * factor;
        const bool late = s > limit_s;
        printf("%-8s %8zu %8d %10zu %10.2f %10.1f%s\n", rows[i].name,
               rows[i].vertices, rows[i].paddocks, count, 1e3 * s,
               1e3 * limit_s, late ? "  too slow" : "");
        slow += late;
        fw_farm_free(farm);
    }
    remove_farm(folder);
    return slow > 0;
}
