/* Up to three places by trying them all: the stays' values so far lie beside
 * each other, so that a third place is one pass over them. More by adding the
 * best one at a time, then changing one while that helps. */
#include "water/points.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <math.h>
#include <string.h>

enum { exact_most = FW_EFFORT(3), most_rounds = FW_EFFORT(100) };

struct worth {
    size_t served;
    double value;
};

struct search {
    const struct fw_points *points;
    double *columns; /* place after place: its values by stay */
    double *so_far[FW_POINTS_MOST + 1]; /* by stay, with so many chosen */
    double *least, *rest; /* by stay: with every place chosen; of it and all
                             after it */
    size_t servable;      /* stays */
    size_t hard;          /* the stay at which the last set failed */
    struct fw_points_chosen best;
    struct worth best_worth;
    size_t chosen[FW_POINTS_MOST];
};

static bool is_better(struct worth a, struct worth b)
{
    return a.served != b.served ? a.served > b.served : a.value < b.value;
}

static const double *column(const struct search *search, size_t place)
{
    return search->columns + place * search->points->stay_count;
}

/* What the places so far and one more are worth, without noting by stay. */
static struct worth with(const struct search *search, const double *so_far,
                         size_t place)
{
    const double *values = column(search, place);
    const size_t count = search->points->stay_count;
    struct worth worth = {0, 0};
    for (size_t s = 0; s < count; s++) {
        const double value = values[s] < so_far[s] ? values[s] : so_far[s];
        if (value == HUGE_VAL)
            continue;
        worth.served++;
        worth.value = !search->points->worst ? worth.value + value
                      : value > worth.value  ? value
                                             : worth.value;
    }
    return worth;
}

/* Sums of the same values in another order differ by less. */
static const double same_share = FW_TOLERANCE(1e-12);

/* All that the best set serves are served: is the value up to a stay too much
 * already? No stay has less than with every place chosen. */
static bool is_beaten(const struct search *search, double value, size_t stay)
{
    const double best = search->best_worth.value;
    return search->points->worst
               ? value >= best
               : value + search->rest[stay + 1] > best * (1 + same_share);
}

/* Can the places so far and one more be better than the best? The longest walk
 * fails where the last one did, more often than not. */
static bool may_lead(struct search *search, const double *so_far, size_t place)
{
    const double *values = column(search, place);
    const bool worst = search->points->worst;
    const size_t wanted = search->best_worth.served;
    size_t left = search->servable;
    double value = 0;
    if (search->best.count == 0)
        return true;
    const double hard = fmin(values[search->hard], so_far[search->hard]);
    if (worst && left == wanted && hard < HUGE_VAL &&
        is_beaten(search, hard, search->hard))
        return false;
    for (size_t s = 0; s < search->points->stay_count; s++) {
        const double here = values[s] < so_far[s] ? values[s] : so_far[s];
        if (here == HUGE_VAL) {
            left -= search->least[s] < HUGE_VAL;
        } else {
            value = !worst ? value + here : here > value ? here : value;
        }
        if (left < wanted || (left == wanted && is_beaten(search, value, s))) {
            search->hard = s;
            return false;
        }
    }
    return true;
}

static void join(const struct search *search, const double *so_far,
                 size_t place, double *out)
{
    const double *values = column(search, place);
    for (size_t s = 0; s < search->points->stay_count; s++)
        out[s] = values[s] < so_far[s] ? values[s] : so_far[s];
}

static void take(struct search *search, size_t count, struct worth worth)
{
    if (search->best.count > 0 && !is_better(worth, search->best_worth))
        return;
    search->best_worth = worth;
    search->best.count = count;
    memcpy(search->best.places, search->chosen, count * sizeof *search->chosen);
}

/* All sets of one size, in the order of their indexes: the first of equals
 * stays. */
static void try_all(struct search *search, size_t depth, size_t size,
                    size_t first)
{
    const size_t places = search->points->place_count;
    for (size_t p = first; p + (size - depth) <= places; p++) {
        search->chosen[depth] = p;
        if (depth + 1 == size) {
            if (may_lead(search, search->so_far[depth], p))
                take(search, size, with(search, search->so_far[depth], p));
            continue;
        }
        join(search, search->so_far[depth], p, search->so_far[depth + 1]);
        try_all(search, depth + 1, size, p + 1);
    }
}

/* ---- more than three ---- */

static void note(struct search *search, size_t count)
{
    for (size_t i = 0; i < count; i++)
        join(search, search->so_far[i], search->chosen[i],
             search->so_far[i + 1]);
}

static bool is_chosen(const struct search *search, size_t count, size_t place)
{
    for (size_t i = 0; i < count; i++)
        if (search->chosen[i] == place)
            return true;
    return false;
}

/* The best place in addition to those so far; place_count: none is left. */
static size_t best_more(const struct search *search, size_t count,
                        struct worth *worth)
{
    const size_t places = search->points->place_count;
    size_t best = places;
    for (size_t p = 0; p < places; p++) {
        if (is_chosen(search, count, p))
            continue;
        const struct worth here = with(search, search->so_far[count], p);
        if (best == places || is_better(here, *worth)) {
            best = p;
            *worth = here;
        }
    }
    return best;
}

/* One place is taken out, and the best one put in its stead, while that helps.
 */
static void change(struct search *search, size_t count)
{
    size_t unchanged = 0;
    for (size_t turn = 0; unchanged < count && turn < most_rounds; turn++) {
        const size_t out = search->chosen[0];
        memmove(search->chosen, search->chosen + 1,
                (count - 1) * sizeof *search->chosen);
        note(search, count - 1);
        const struct worth was = with(search, search->so_far[count - 1], out);
        struct worth worth = was;
        const size_t in = best_more(search, count - 1, &worth);
        const bool helps =
            in < search->points->place_count && is_better(worth, was);
        search->chosen[count - 1] = helps ? in : out;
        unchanged = helps ? 0 : unchanged + 1;
    }
}

static void sort(size_t *places, size_t count)
{
    for (size_t i = 1; i < count; i++)
        for (size_t k = i; k > 0 && places[k - 1] > places[k]; k--) {
            const size_t swap = places[k];
            places[k] = places[k - 1];
            places[k - 1] = swap;
        }
}

static void try_more(struct search *search, size_t size)
{
    const size_t begun = search->best.count;
    memcpy(search->chosen, search->best.places, begun * sizeof *search->chosen);
    for (size_t count = begun; count < size; count++) {
        struct worth worth = {0, 0};
        note(search, count);
        const size_t place = best_more(search, count, &worth);
        if (place == search->points->place_count)
            return;
        search->chosen[count] = place;
        change(search, count + 1);
        note(search, count);
        worth = with(search, search->so_far[count], search->chosen[count]);
        size_t kept[FW_POINTS_MOST];
        memcpy(kept, search->chosen, sizeof kept);
        sort(search->chosen, count + 1);
        take(search, count + 1, worth);
        memcpy(search->chosen, kept, sizeof kept);
    }
}

/* ---- */

/* With every place chosen. */
static void look_up(struct search *search)
{
    const struct fw_points *points = search->points;
    for (size_t s = points->stay_count; s-- > 0;) {
        double least = HUGE_VAL;
        for (size_t p = 0; p < points->place_count; p++)
            least = fmin(least, points->value[s * points->place_count + p]);
        const bool servable = least < HUGE_VAL;
        search->servable += servable;
        search->least[s] = least;
        search->rest[s] = search->rest[s + 1] + (servable ? least : 0);
    }
}

/* What the served stays would have with every place chosen. */
static double bound(const struct search *search)
{
    const struct fw_points *points = search->points;
    double sum = 0, most = 0;
    for (size_t s = 0; s < points->stay_count; s++)
        if (fw_water_points_of(points, &search->best, s) <
            points->place_count) {
            sum += search->least[s];
            most = fmax(most, search->least[s]);
        }
    return points->worst ? most : sum;
}

static enum fw_status prepare(struct search *search, struct fw_error *err)
{
    const struct fw_points *points = search->points;
    const size_t stays = points->stay_count;
    search->columns =
        fw_alloc(points->place_count * stays, sizeof *search->columns);
    search->so_far[0] =
        fw_alloc((FW_POINTS_MOST + 1) * stays, sizeof *search->so_far[0]);
    search->least = fw_alloc(stays, sizeof *search->least);
    search->rest = fw_alloc(stays + 1, sizeof *search->rest);
    if (!search->columns || !search->so_far[0] || !search->least ||
        !search->rest)
        return fw_fail_memory(err);
    look_up(search);
    for (size_t i = 1; i <= FW_POINTS_MOST; i++)
        search->so_far[i] = search->so_far[0] + i * stays;
    for (size_t s = 0; s < stays; s++) {
        search->so_far[0][s] = HUGE_VAL;
        for (size_t p = 0; p < points->place_count; p++)
            search->columns[p * stays + s] =
                points->value[s * points->place_count + p];
    }
    return FW_OK;
}

enum fw_status fw_water_points(const struct fw_points *points, size_t most,
                               struct fw_points_chosen *out,
                               struct fw_error *err)
{
    struct search search = {.points = points};
    if (most == 0 || most > FW_POINTS_MOST)
        return fw_fail(err, FW_EINPUT,
                       "%zu water points; expected 1 to %d, such as 3", most,
                       (int)FW_POINTS_MOST);
    if (points->place_count == 0 || points->stay_count == 0) {
        *out = (struct fw_points_chosen){.exact = true};
        return FW_OK;
    }
    const enum fw_status status = prepare(&search, err);
    if (!status) {
        const size_t exact = most < exact_most ? most : exact_most;
        for (size_t size = 1; size <= exact && size <= points->place_count;
             size++)
            try_all(&search, 0, size, 0);
        if (most > exact_most)
            try_more(&search, most);
        search.best.served = search.best_worth.served;
        search.best.value = search.best_worth.value;
        if (search.best.served == 0)
            search.best.count = 0;
        search.best.servable = search.servable;
        search.best.bound = bound(&search);
        search.best.exact =
            most <= exact_most || (search.best.served == search.best.servable &&
                                   search.best.value <= search.best.bound);
        *out = search.best;
    }
    fw_free(search.columns);
    fw_free(search.so_far[0]);
    fw_free(search.least);
    fw_free(search.rest);
    return status;
}

size_t fw_water_points_of(const struct fw_points *points,
                          const struct fw_points_chosen *chosen, size_t stay)
{
    size_t best = points->place_count;
    double least = HUGE_VAL;
    for (size_t i = 0; i < chosen->count; i++) {
        const double value =
            points->value[stay * points->place_count + chosen->places[i]];
        if (value < least) {
            least = value;
            best = chosen->places[i];
        }
    }
    return best;
}
