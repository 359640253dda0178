/* Words, line after line and page after page. */
#include "sheet/flow.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static double width_of(const struct fw_flow *flow)
{
    return flow->size.x - 2 * flow->margin;
}

/* What would not fit on a page of its own is cut there: it says so by an
 * ellipsis. */
static void keep_on_page(const struct fw_flow *flow, struct fw_type *type)
{
    const double room = flow->size.y - 2 * flow->margin - flow->foot -
                        8 * flow->size_pt; /* heads and headings */
    const double line_pt = 1.4 * type->size_pt;
    type->most_lines = (int)fmax(1, fmin(1000, floor(room / line_pt)));
}

static void rule(struct fw_flow *flow, double y)
{
    const struct fw_xy line[] = {{flow->margin, y},
                                 {flow->size.x - flow->margin, y}};
    fw_paper_line(flow->paper, flow->page, FW_PEN_HAIR, line, 2);
}

static struct fw_type type_of(const struct fw_flow *flow, size_t column,
                              bool bold)
{
    const double gap = 4; /* between two columns */
    struct fw_type type = {.size_pt = flow->size_pt,
                           .bold = bold,
                           .wide_pt = flow->columns[column].wide_pt - gap};
    keep_on_page(flow, &type);
    return type;
}

/* One line of cells, if it were set at y; how high it is. */
static double cells_high(const struct fw_flow *flow, const char *const *cells,
                         bool bold)
{
    double most = 0;
    for (size_t i = 0; i < flow->column_count; i++) {
        double wide, high;
        const struct fw_type type = type_of(flow, i, bold);
        fw_paper_measure(flow->paper, cells[i], &type, &wide, &high);
        most = fmax(most, high);
    }
    return most;
}

static void put_cells(struct fw_flow *flow, const char *const *cells, bool bold)
{
    struct fw_xy at = {flow->margin, flow->y};
    for (size_t i = 0; i < flow->column_count; i++) {
        const struct fw_type type = type_of(flow, i, bold);
        if (cells[i][0])
            fw_paper_words(flow->paper, flow->page, cells[i], &type, at);
        at.x += flow->columns[i].wide_pt;
    }
}

static void put_head(struct fw_flow *flow)
{
    enum { most = 16 };
    const char *heads[most];
    for (size_t i = 0; i < flow->column_count && i < most; i++)
        heads[i] = flow->columns[i].head;
    put_cells(flow, heads, true);
    flow->y += cells_high(flow, heads, true) + 2;
    rule(flow, flow->y - 1);
}

void fw_flow_page(struct fw_flow *flow)
{
    const struct fw_type type = {
        .size_pt = flow->size_pt, .wide_pt = width_of(flow), .most_lines = 1};
    flow->page =
        fw_paper_page(flow->paper, flow->size.x, flow->size.y, flow->margin);
    flow->y = flow->margin;
    if (flow->running)
        flow->y += fw_paper_words(flow->paper, flow->page, flow->running, &type,
                                  (struct fw_xy){flow->margin, flow->y}) +
                   4;
    if (flow->columns)
        put_head(flow);
}

void fw_flow_need(struct fw_flow *flow, double high)
{
    if (!flow->page ||
        flow->y + high > flow->size.y - flow->margin - flow->foot)
        fw_flow_page(flow);
}

void fw_flow_gap(struct fw_flow *flow, double high)
{
    if (flow->page)
        flow->y += high;
}

void fw_flow_heading(struct fw_flow *flow, const char *words)
{
    const struct fw_type type = {
        .size_pt = flow->size_pt + 2, .bold = true, .wide_pt = width_of(flow)};
    double wide, high;
    fw_paper_measure(flow->paper, words, &type, &wide, &high);
    fw_flow_need(flow, high + 4 * flow->size_pt); /* not alone at a foot */
    flow->y += fw_paper_words(flow->paper, flow->page, words, &type,
                              (struct fw_xy){flow->margin, flow->y}) +
               3;
}

void fw_flow_paragraph(struct fw_flow *flow, const char *before, double indent,
                       const char *words)
{
    const struct fw_type plain = {.size_pt = flow->size_pt};
    struct fw_type type = {.size_pt = flow->size_pt,
                           .wide_pt = width_of(flow) - indent};
    double wide, high;
    keep_on_page(flow, &type);
    fw_paper_measure(flow->paper, words, &type, &wide, &high);
    fw_flow_need(flow, high);
    if (before[0])
        fw_paper_words(flow->paper, flow->page, before, &plain,
                       (struct fw_xy){flow->margin, flow->y});
    flow->y += fw_paper_words(flow->paper, flow->page, words, &type,
                              (struct fw_xy){flow->margin + indent, flow->y}) +
               1;
}

/* ---- a text of the reports ---- */

/* What stands in the margin of a line: a number, or one ! or -. */
static bool split_marker(const char *line, char marker[8], const char **words)
{
    enum { margin = 4 };
    if (strlen(line) <= margin || line[margin - 1] != ' ')
        return false;
    const size_t from = strspn(line, " ");
    const size_t n = strcspn(line + from, " ");
    const size_t digits = strspn(line + from, "0123456789");
    const bool sign = n == 1 && strchr("!-", line[from]);
    if (from + n >= margin || (digits != n && !sign) ||
        strspn(line + from + n, " ") < margin - from - n)
        return n == 0 && from >= margin;
    snprintf(marker, sizeof "1234567", "%.*s", (int)n, line + from);
    *words = line + margin;
    return true;
}

static bool is_heading(const char *line)
{
    return isupper((unsigned char)line[0]) && isupper((unsigned char)line[1]);
}

static void put_line(struct fw_flow *flow, const char *line)
{
    char marker[8] = "";
    const char *words = line + strspn(line, " ");
    if (!*line)
        fw_flow_gap(flow, flow->size_pt / 2);
    else if (split_marker(line, marker, &words))
        fw_flow_paragraph(flow, marker, 1.9 * flow->size_pt, words);
    else if (is_heading(line))
        fw_flow_heading(flow, line);
    else
        fw_flow_paragraph(flow, "", 0, line + strspn(line, " "));
}

void fw_flow_text(struct fw_flow *flow, struct fw_text *text)
{
    flow->paper->failed |= text->failed;
    char *at = text->failed ? NULL : text->bytes;
    while (at && *at) {
        char *end = at + strcspn(at, "\n");
        const bool last = !*end;
        *end = '\0';
        put_line(flow, at);
        at = last ? end : end + 1;
    }
    fw_text_release(text);
}

/* ---- tables ---- */

void fw_flow_table(struct fw_flow *flow, const struct fw_flow_column *columns,
                   size_t count)
{
    flow->columns = NULL;
    fw_flow_need(flow, 5 * flow->size_pt);
    flow->columns = columns;
    flow->column_count = count;
    put_head(flow);
}

void fw_flow_row(struct fw_flow *flow, const char *const *cells)
{
    const double high = cells_high(flow, cells, false);
    fw_flow_need(flow, high + 2);
    put_cells(flow, cells, false);
    flow->y += high + 2;
    rule(flow, flow->y - 1);
}

void fw_flow_table_end(struct fw_flow *flow)
{
    flow->columns = NULL;
}

void fw_flow_number_pages(struct fw_paper *paper, const char *words,
                          double size_pt)
{
    for (size_t i = 0; i < paper->count; i++) {
        struct fw_page *page = &paper->pages[i];
        const struct fw_type type = {.size_pt = size_pt};
        const double apart = 12;
        char number[32];
        double wide, high, said_high;
        snprintf(number, sizeof number, "%u of %u", (unsigned)(i + 1),
                 (unsigned)paper->count);
        fw_paper_measure(paper, number, &type, &wide, &high);
        struct fw_type said = {.size_pt = size_pt,
                               .wide_pt = page->wide - 2 * page->margin - wide -
                                          apart};
        const double bottom = page->high - page->margin;
        fw_paper_words(
            paper, page, number, &type,
            (struct fw_xy){page->wide - page->margin - wide, bottom - high});
        if (!words)
            continue;
        double said_wide;
        fw_paper_measure(paper, words, &said, &said_wide, &said_high);
        fw_paper_words(paper, page, words, &said,
                       (struct fw_xy){page->margin, bottom - said_high});
    }
}
