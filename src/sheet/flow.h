/* Words that run down pages: headings, paragraphs and tables, whose heads are
 * said again where a page ends. */
#ifndef FW_SHEET_FLOW_H
#define FW_SHEET_FLOW_H

#include "base/text.h"
#include "paper/paper.h"

struct fw_flow_column {
    const char *head;
    double wide_pt;
};

struct fw_flow {
    struct fw_paper *paper;
    struct fw_page *page; /* NULL: none was begun */
    struct fw_xy size;
    double margin;
    double foot;         /* kept free below, for what stands on every page */
    double size_pt;      /* of plain words */
    const char *running; /* what the pages are about */
    double y;            /* where the next line begins */
    const struct fw_flow_column *columns; /* of the table at hand; NULL: none */
    size_t column_count;
};

/* The next page. */
void fw_flow_page(struct fw_flow *flow);
/* A new page if there is less room than that. */
void fw_flow_need(struct fw_flow *flow, double high);
void fw_flow_gap(struct fw_flow *flow, double high);

void fw_flow_heading(struct fw_flow *flow, const char *words);
/* A paragraph with something in its margin, as a number; "" for nothing. */
void fw_flow_paragraph(struct fw_flow *flow, const char *before, double indent,
                       const char *words);
/* A text with FW_REPORT_UNFOLDED columns, line by line; released. Lines in
 * capitals are headings; a number, ! or - before a line stands in its margin.
 */
void fw_flow_text(struct fw_flow *flow, struct fw_text *text);

/* Until the next one, or fw_flow_table_end. */
void fw_flow_table(struct fw_flow *flow, const struct fw_flow_column *columns,
                   size_t count);
void fw_flow_row(struct fw_flow *flow, const char *const *cells);
void fw_flow_table_end(struct fw_flow *flow);

/* "3 of 9" at the foot of every page, with what else is said there. */
void fw_flow_number_pages(struct fw_paper *paper, const char *words,
                          double size_pt);

#endif
