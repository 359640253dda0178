/* What overlaps on a page and what leaves it, by GEOS, from the marks alone. */
#ifndef FW_PAPER_JUDGE_H
#define FW_PAPER_JUDGE_H

#include "test.h"

#include "paper/paper.h"

#include <geos_c.h>
#include <string.h>

/* Hairs of the sums in turned boxes. */
static const double paper_hair_pt2 = 1e-6, paper_hair_pt = 1e-6;

static inline void paper_corners(const struct fw_box *box, double at[4][2])
{
    const double turn = box->turn_deg * acos(-1.0) / 180;
    for (int i = 0; i < 4; i++) {
        const double x = (i == 1 || i == 2 ? 1 : -1) * box->wide / 2;
        const double y = (i < 2 ? -1 : 1) * box->high / 2;
        at[i][0] = box->x + x * cos(turn) - y * sin(turn);
        at[i][1] = box->y + x * sin(turn) + y * cos(turn);
    }
}

static inline GEOSGeometry *paper_box(GEOSContextHandle_t geos,
                                      const struct fw_box *box)
{
    double at[4][2];
    paper_corners(box, at);
    GEOSCoordSequence *line = GEOSCoordSeq_create_r(geos, 5, 2);
    for (unsigned i = 0; i < 5; i++)
        GEOSCoordSeq_setXY_r(geos, line, i, at[i % 4][0], at[i % 4][1]);
    return GEOSGeom_createPolygon_r(
        geos, GEOSGeom_createLinearRing_r(geos, line), NULL, 0);
}

static inline double paper_shared(GEOSContextHandle_t geos,
                                  const struct fw_box *a,
                                  const struct fw_box *b)
{
    GEOSGeometry *of_a = paper_box(geos, a), *of_b = paper_box(geos, b);
    GEOSGeometry *both = GEOSIntersection_r(geos, of_a, of_b);
    double area = 0;
    GEOSArea_r(geos, both, &area);
    GEOSGeom_destroy_r(geos, both);
    GEOSGeom_destroy_r(geos, of_a);
    GEOSGeom_destroy_r(geos, of_b);
    return area;
}

struct paper_faults {
    size_t words, overlaps, overflows;
    char first[400];
};

static inline void paper_note(struct paper_faults *faults, const char *what,
                              size_t page, const char *a, const char *b)
{
    if (!faults->first[0])
        snprintf(faults->first, sizeof faults->first,
                 "%s on page %zu: \"%.80s\", \"%.80s\"", what, page + 1, a, b);
}

static inline bool paper_leaves(const struct fw_page *page,
                                const struct fw_box *box)
{
    double at[4][2];
    paper_corners(box, at);
    for (int i = 0; i < 4; i++)
        if (at[i][0] < page->margin - paper_hair_pt ||
            at[i][1] < page->margin - paper_hair_pt ||
            at[i][0] > page->wide - page->margin + paper_hair_pt ||
            at[i][1] > page->high - page->margin + paper_hair_pt)
            return true;
    return false;
}

/* A bar or an arrow beside a map, which no words may run over. */
static inline bool paper_is_sign(const struct fw_paper_mark *mark,
                                 struct fw_box *box)
{
    if (!(mark->kind == FW_PAPER_LINE && mark->pen == FW_PEN_BAR) &&
        !(mark->kind == FW_PAPER_AREA && mark->pen == FW_PEN_SOLID))
        return false;
    const size_t count =
        mark->kind == FW_PAPER_AREA ? mark->ring_start[1] : mark->count;
    double x0 = HUGE_VAL, x1 = -HUGE_VAL, y0 = HUGE_VAL, y1 = -HUGE_VAL;
    for (size_t i = 0; i < count; i++) {
        x0 = fmin(x0, mark->points[i].x);
        x1 = fmax(x1, mark->points[i].x);
        y0 = fmin(y0, mark->points[i].y);
        y1 = fmax(y1, mark->points[i].y);
    }
    const double half_bar = mark->kind == FW_PAPER_LINE ? 1.2 : 0;
    *box = (struct fw_box){(x0 + x1) / 2, (y0 + y1) / 2, x1 - x0,
                           y1 - y0 + 2 * half_bar, 0};
    return true;
}

static inline void paper_judge_signs(GEOSContextHandle_t geos,
                                     const struct fw_page *page, size_t number,
                                     struct paper_faults *faults)
{
    struct fw_box box;
    for (size_t i = 0; i < page->count; i++)
        for (size_t k = 0;
             paper_is_sign(&page->marks[i], &box) && k < page->count; k++) {
            const struct fw_paper_mark *words = &page->marks[k];
            if (words->kind != FW_PAPER_WORDS ||
                paper_shared(geos, &box, &words->box) <= paper_hair_pt2)
                continue;
            faults->overlaps++;
            paper_note(faults, "over a bar or an arrow", number, words->words,
                       "");
        }
}

static inline void paper_judge_page(GEOSContextHandle_t geos,
                                    const struct fw_page *page, size_t number,
                                    struct paper_faults *faults)
{
    for (size_t i = 0; i < page->count; i++) {
        const struct fw_paper_mark *a = &page->marks[i];
        if (a->kind != FW_PAPER_WORDS)
            continue;
        faults->words++;
        if (paper_leaves(page, &a->box)) {
            faults->overflows++;
            paper_note(faults, "outside", number, a->words, "");
        }
        for (size_t k = i + 1; k < page->count; k++) {
            const struct fw_paper_mark *b = &page->marks[k];
            if (b->kind != FW_PAPER_WORDS ||
                hypot(a->box.x - b->box.x, a->box.y - b->box.y) >
                    hypot(a->box.wide, a->box.high) / 2 +
                        hypot(b->box.wide, b->box.high) / 2 ||
                paper_shared(geos, &a->box, &b->box) <= paper_hair_pt2)
                continue;
            faults->overlaps++;
            paper_note(faults, "overlap", number, a->words, b->words);
        }
    }
}

/* Squares, drops, flashes, kites, rings and discs: what marks a place. Of what
 * is hatched only a kite, whose sides are all alike: small ponds are ground. */
static inline GEOSGeometry *paper_shape(GEOSContextHandle_t geos,
                                        const struct fw_paper_mark *mark)
{
    const double widest_pt = 20;
    const struct fw_xy *at = mark->points;
    if (mark->kind != FW_PAPER_AREA || mark->count != 1)
        return NULL;
    const size_t count = mark->ring_start[1];
    const bool kite = mark->pen == FW_PEN_HATCHED && count == 4 &&
                      fabs(at[0].x - at[2].x) < paper_hair_pt &&
                      fabs(at[1].y - at[3].y) < paper_hair_pt;
    if (mark->pen != FW_PEN_WHITE && mark->pen != FW_PEN_SOLID && !kite)
        return NULL;
    for (size_t i = 0; i < count; i++)
        if (fabs(at[i].x - at[0].x) > widest_pt ||
            fabs(at[i].y - at[0].y) > widest_pt)
            return NULL;
    GEOSCoordSequence *line =
        GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    for (size_t i = 0; i <= count; i++)
        GEOSCoordSeq_setXY_r(geos, line, (unsigned)i, at[i % count].x,
                             at[i % count].y);
    return GEOSGeom_createPolygon_r(
        geos, GEOSGeom_createLinearRing_r(geos, line), NULL, 0);
}

/* No sign is printed on another one. */
static inline void paper_judge_marks(GEOSContextHandle_t geos,
                                     const struct fw_page *page, size_t number,
                                     struct paper_faults *faults)
{
    for (size_t i = 0; i < page->count; i++) {
        GEOSGeometry *a = paper_shape(geos, &page->marks[i]);
        for (size_t k = i + 1; a && k < page->count; k++) {
            GEOSGeometry *b = paper_shape(geos, &page->marks[k]);
            GEOSGeometry *both = b ? GEOSIntersection_r(geos, a, b) : NULL;
            double area = 0;
            if (both)
                GEOSArea_r(geos, both, &area);
            if (area > paper_hair_pt2) {
                const struct fw_xy on = page->marks[i].points[0];
                char at[40];
                snprintf(at, sizeof at, "%.0f %.0f", on.x, on.y);
                faults->overlaps++;
                paper_note(faults, "a sign on a sign", number, at, "");
            }
            GEOSGeom_destroy_r(geos, both);
            GEOSGeom_destroy_r(geos, b);
        }
        GEOSGeom_destroy_r(geos, a);
    }
}

/* Lines and areas stay on the sheet too. */
static inline void paper_judge_shapes(const struct fw_page *page, size_t number,
                                      struct paper_faults *faults)
{
    for (size_t i = 0; i < page->count; i++) {
        const struct fw_paper_mark *mark = &page->marks[i];
        const size_t count = mark->kind == FW_PAPER_AREA
                                 ? mark->ring_start[mark->count]
                                 : mark->count;
        for (size_t k = 0; mark->kind != FW_PAPER_WORDS && k < count; k++)
            if (!(mark->points[k].x >= 0 && mark->points[k].y >= 0 &&
                  mark->points[k].x <= page->wide &&
                  mark->points[k].y <= page->high)) {
                faults->overflows++;
                paper_note(faults, "line outside", number, "", "");
                break;
            }
    }
}

static inline struct paper_faults paper_judge(const struct fw_paper *paper)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    struct paper_faults faults = {0};
    for (size_t i = 0; i < paper->count; i++) {
        paper_judge_page(geos, &paper->pages[i], i, &faults);
        paper_judge_signs(geos, &paper->pages[i], i, &faults);
        paper_judge_marks(geos, &paper->pages[i], i, &faults);
        paper_judge_shapes(&paper->pages[i], i, &faults);
    }
    GEOS_finish_r(geos);
    return faults;
}

static inline void paper_is_clean(const struct fw_paper *paper)
{
    const struct paper_faults faults = paper_judge(paper);
    if (faults.overlaps || faults.overflows)
        fail_msg("%zu overlaps, %zu outside; first: %s", faults.overlaps,
                 faults.overflows, faults.first);
    assert_true(faults.words > 0);
}

static inline bool paper_says(const struct fw_page *page, const char *words)
{
    for (size_t i = 0; i < page->count; i++)
        if (page->marks[i].kind == FW_PAPER_WORDS &&
            strstr(page->marks[i].words, words))
            return true;
    return false;
}

#endif
