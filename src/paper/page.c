/* Marks put on pages. */
#include "paper/paper.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/array.h"
#include "base/text.h"

#include <math.h>
#include <string.h>

struct fw_page *fw_paper_page(struct fw_paper *paper, double wide, double high,
                              double margin)
{
    if (fw_array_reserve(&paper->pages, &paper->capacity, paper->count + 1,
                         sizeof *paper->pages, NULL)) {
        paper->failed = true;
        return NULL;
    }
    struct fw_page *page = &paper->pages[paper->count++];
    *page = (struct fw_page){.wide = wide, .high = high, .margin = margin};
    return page;
}

/* The next mark of the page, if there is room and no page failed before. */
static struct fw_paper_mark *add(struct fw_paper *paper, struct fw_page *page)
{
    if (paper->failed || !page ||
        fw_array_reserve(&page->marks, &page->capacity, page->count + 1,
                         sizeof *page->marks, NULL)) {
        paper->failed = true;
        return NULL;
    }
    return &page->marks[page->count++];
}

void fw_paper_words_in(struct fw_paper *paper, struct fw_page *page,
                       const char *words, const struct fw_type *type,
                       const struct fw_box *box)
{
    struct fw_paper_mark *mark = add(paper, page);
    if (!mark)
        return;
    mark->kind = FW_PAPER_WORDS;
    mark->type = *type;
    mark->box = *box;
    mark->words = fw_strdup(words);
    paper->failed |= !mark->words;
}

double fw_paper_words(struct fw_paper *paper, struct fw_page *page,
                      const char *words, const struct fw_type *type,
                      struct fw_xy at)
{
    struct fw_box box = {0};
    fw_paper_measure(paper, words, type, &box.wide, &box.high);
    box.x = at.x + box.wide / 2;
    box.y = at.y + box.high / 2;
    fw_paper_words_in(paper, page, words, type, &box);
    return box.high;
}

static void put_points(struct fw_paper *paper, struct fw_paper_mark *mark,
                       const struct fw_xy *points, size_t count)
{
    mark->points = fw_alloc(count, sizeof *points);
    if (mark->points)
        memcpy(mark->points, points, count * sizeof *points);
    paper->failed |= !mark->points;
}

void fw_paper_line(struct fw_paper *paper, struct fw_page *page,
                   enum fw_pen pen, const struct fw_xy *points, size_t count)
{
    struct fw_paper_mark *mark = add(paper, page);
    if (!mark)
        return;
    mark->kind = FW_PAPER_LINE;
    mark->pen = pen;
    mark->count = count;
    put_points(paper, mark, points, count);
}

void fw_paper_area(struct fw_paper *paper, struct fw_page *page,
                   enum fw_pen pen, const struct fw_xy *points,
                   const size_t *ring_start, size_t ring_count)
{
    struct fw_paper_mark *mark = add(paper, page);
    if (!mark)
        return;
    mark->kind = FW_PAPER_AREA;
    mark->pen = pen;
    mark->count = ring_count;
    put_points(paper, mark, points, ring_start[ring_count]);
    mark->ring_start = fw_alloc(ring_count + 1, sizeof *ring_start);
    if (mark->ring_start)
        memcpy(mark->ring_start, ring_start,
               (ring_count + 1) * sizeof *ring_start);
    paper->failed |= !mark->ring_start;
}

void fw_paper_rectangle(struct fw_paper *paper, struct fw_page *page,
                        enum fw_pen pen, struct fw_xy at, struct fw_xy size)
{
    const size_t ring_start[] = {0, 4};
    const struct fw_xy points[] = {{at.x, at.y},
                                   {at.x + size.x, at.y},
                                   {at.x + size.x, at.y + size.y},
                                   {at.x, at.y + size.y}};
    fw_paper_area(paper, page, pen, points, ring_start, 1);
}

void fw_paper_disc(struct fw_paper *paper, struct fw_page *page,
                   enum fw_pen pen, struct fw_xy middle, double radius)
{
    enum { corners = 24 };
    const double turn = 2 * FW_PI / corners;
    const size_t ring_start[] = {0, corners};
    struct fw_xy points[corners];
    for (int i = 0; i < corners; i++)
        points[i] = (struct fw_xy){middle.x + radius * cos(i * turn),
                                   middle.y + radius * sin(i * turn)};
    fw_paper_area(paper, page, pen, points, ring_start, 1);
}
