/* Pages as data: every word, line and area with its place, in points (1/72
 * inch) from the upper left corner. They are put together first, so that a test
 * can measure what overlaps what; then drawn as PDF, SVG or PNG, all three from
 * the same marks.
 *
 * Words are measured and set by pango with whatever fonts there are, drawn by
 * cairo. What is on a page, and where, is for the caller to say. Looks are told
 * by shape: width and dashes of a line, a hatching. There are no colours. */
#ifndef FW_PAPER_PAPER_H
#define FW_PAPER_PAPER_H

#include "geo/geo.h"
#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

#define FW_PAPER_MM (72 / 25.4) /* points of one millimetre */
#define FW_PAPER_INCH 72.0

enum fw_pen {
    FW_PEN_HAIR,    /* thin and grey: frames of tables, marks of a grid */
    FW_PEN_FINE,    /* thin: leaders, what is only there */
    FW_PEN_PLAIN,   /* a line that stands */
    FW_PEN_HEAVY,   /* a boundary */
    FW_PEN_DOUBLE,  /* the same beside bold lines: two thin ones */
    FW_PEN_BOLD,    /* what is done today */
    FW_PEN_DASHED,  /* short dashes */
    FW_PEN_LONG,    /* long dashes, wide */
    FW_PEN_DOTTED,  /* a dash and a dot */
    FW_PEN_BAR,     /* a bar of a scale */
    FW_PEN_HATCHED, /* area: hatched, with an edge */
    FW_PEN_SHADED,  /* area: light grey, no edge */
    FW_PEN_SOLID,   /* area: black */
    FW_PEN_WHITE,   /* area: white, with a thin edge */
    FW_PEN_COUNT
};

enum fw_behind { /* words, where lines run below them */
                 FW_BEHIND_NOTHING,
                 FW_BEHIND_HALO, /* white about the letters */
                 FW_BEHIND_BLANK /* their whole box is white */
};

struct fw_type { /* how words are set */
    double size_pt;
    bool bold;
    enum fw_behind behind;
    double wide_pt;  /* folded to this; 0: one line */
    int most_lines;  /* more are cut, with an ellipsis; 0: all */
    double turn_deg; /* about the middle, clockwise */
    bool centred;    /* its lines about their middle, not from the left */
};

struct fw_box { /* about its middle, turned clockwise */
    double x, y, wide, high, turn_deg;
};

enum fw_paper_kind { FW_PAPER_WORDS, FW_PAPER_LINE, FW_PAPER_AREA };

struct fw_paper_mark {
    enum fw_paper_kind kind;
    enum fw_pen pen; /* of lines and areas */
    char *words;
    struct fw_type type;
    struct fw_box box; /* of words */
    struct fw_xy *points;
    size_t *ring_start; /* of an area, one more than its rings */
    size_t count;       /* points of a line, rings of an area */
};

struct fw_page {
    double wide, high;
    double margin; /* nothing is outside */
    bool drawing;  /* belongs into a picture of its own */
    struct fw_paper_mark *marks;
    size_t count, capacity;
};

struct fw_setter; /* pango's */

struct fw_paper {
    char *title;
    struct fw_page *pages;
    size_t count, capacity;
    char **unknown; /* words with letters that no font here has */
    size_t unknown_count, unknown_capacity;
    struct fw_setter *setter;
    bool failed; /* memory ran out: remembered, and told when it is drawn */
};

/* FW_ENOMEM; FW_EOUTPUT: there is no font at all, with what to install. */
enum fw_status fw_paper_new(const char *title, struct fw_paper **out,
                            struct fw_error *err);
void fw_paper_free(struct fw_paper *paper);

/* A page that follows. It stays where it is until the next one is added. NULL:
 * paper->failed. */
struct fw_page *fw_paper_page(struct fw_paper *paper, double wide, double high,
                              double margin);

/* How much room words take when set so. */
void fw_paper_measure(struct fw_paper *paper, const char *words,
                      const struct fw_type *type, double *wide, double *high);

/* Words with the upper left corner of their box there; how high they are. */
double fw_paper_words(struct fw_paper *paper, struct fw_page *page,
                      const char *words, const struct fw_type *type,
                      struct fw_xy at);
/* Words in that box, which they were measured for. */
void fw_paper_words_in(struct fw_paper *paper, struct fw_page *page,
                       const char *words, const struct fw_type *type,
                       const struct fw_box *box);
void fw_paper_line(struct fw_paper *paper, struct fw_page *page,
                   enum fw_pen pen, const struct fw_xy *points, size_t count);
/* Rings that lie in each other are holes. ring_start has one more than there
 * are rings. */
void fw_paper_area(struct fw_paper *paper, struct fw_page *page,
                   enum fw_pen pen, const struct fw_xy *points,
                   const size_t *ring_start, size_t ring_count);
void fw_paper_rectangle(struct fw_paper *paper, struct fw_page *page,
                        enum fw_pen pen, struct fw_xy at, struct fw_xy size);
void fw_paper_disc(struct fw_paper *paper, struct fw_page *page,
                   enum fw_pen pen, struct fw_xy middle, double radius);

/* The Debian package with a font for the letters of those words. */
const char *fw_paper_font_package(const char *words);

/* ---- scales ---- */

/* The greatest round scale, 1 : n, at which so many metres fit into so many
 * points; in feet one inch is a round number of feet. */
double fw_scale_of(double wide_m, double high_m, struct fw_xy room_pt,
                   bool feet);
double fw_scale_points(double scale, double m); /* on paper */

/* The longest round length, metres or feet in metres, of at most so much. */
double fw_scale_bar_m(double most_m, bool feet);

/* ---- labels ---- */

/* Boxes that are taken on a page; {0} is none. */
struct fw_labels {
    struct fw_box *boxes;
    size_t count, capacity;
    struct fw_box area; /* none may leave it; wide 0: anywhere */
};
void fw_labels_release(struct fw_labels *labels);

bool fw_box_overlap(const struct fw_box *a, const struct fw_box *b);
bool fw_box_within(const struct fw_box *inner, const struct fw_box *outer);

/* Is the place free, and within the area? */
bool fw_labels_are_free(const struct fw_labels *labels,
                        const struct fw_box *box);
/* Take it, free or not; false: there is no memory. */
bool fw_labels_take(struct fw_labels *labels, const struct fw_box *box);

/* ---- drawing ---- */

enum fw_paper_form {
    FW_PAPER_PDF, /* all pages */
    FW_PAPER_SVG, /* the drawings alone, one below the other */
    FW_PAPER_PNG  /* the same */
};

/* Free with fw_bytes_free. The time is what a PDF says it was made at. The same
 * paper gives the same bytes. FW_ENOMEM, FW_EOUTPUT. */
enum fw_status fw_paper_draw(const struct fw_paper *paper,
                             enum fw_paper_form form, long long epoch_s,
                             char **out, size_t *count, struct fw_error *err);

#endif
