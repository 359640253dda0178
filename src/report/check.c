/* What `check` says: each field drawn with its corners numbered, its sides
 * lengthed, north up, and what is still missing. */
#include "report/report.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "base/whole.h"
#include "crs/crs.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A drawing in letters for each of so many fields; more is a long list. */
static const size_t most_drawn = 4;

enum { columns = 60, rows = 22 };

struct canvas {
    char cells[rows][columns + 1];
    double x0, x1, y0;       /* left, right and upper edge of the field */
    double scale_x, scale_y; /* cells to the metre */
};

static void canvas_init(struct canvas *canvas, const struct fw_field *field)
{
    double x0 = (double)INFINITY, x1 = -(double)INFINITY, y0 = (double)INFINITY,
           y1 = -(double)INFINITY;
    for (size_t i = 0; i < field->vertex_count; i++) {
        const struct fw_point p = field->vertices[i].plane;
        x0 = fmin(x0, p.x_m);
        x1 = fmax(x1, p.x_m);
        y0 = fmin(y0, p.y_m);
        y1 = fmax(y1, p.y_m);
    }
    /* A letter is about twice as high as it is wide; a margin of 3 cells
     * leaves room for the numbers. */
    const double across = (columns - 7) / (x1 - x0);
    const double down = 2 * (rows - 3) / (y1 - y0);
    canvas->scale_x = fmin(across, down);
    canvas->scale_y = canvas->scale_x / 2;
    canvas->x0 = x0;
    canvas->x1 = x1;
    canvas->y0 = y1;
    for (size_t r = 0; r < rows; r++) {
        memset(canvas->cells[r], ' ', columns);
        canvas->cells[r][columns] = '\0';
    }
}

static void to_cell(const struct canvas *canvas, struct fw_point p, int *column,
                    int *row)
{
    *column = 3 + fw_whole((p.x_m - canvas->x0) * canvas->scale_x);
    *row = 1 + fw_whole((canvas->y0 - p.y_m) * canvas->scale_y);
}

static void put_char(struct canvas *canvas, int column, int row, char c)
{
    if (column >= 0 && column < columns && row >= 0 && row < rows)
        canvas->cells[row][column] = c;
}

static void draw_edge(struct canvas *canvas, struct fw_point a,
                      struct fw_point b)
{
    int ca, ra, cb, rb;
    to_cell(canvas, a, &ca, &ra);
    to_cell(canvas, b, &cb, &rb);
    const int wide = cb > ca ? cb - ca : ca - cb;
    const int high = rb > ra ? rb - ra : ra - rb;
    const int steps = wide > high ? wide : high;
    const char c = high * 2 < wide             ? '-'
                   : wide * 2 < high           ? '|'
                   : (cb - ca) * (rb - ra) > 0 ? '\\'
                                               : '/';
    for (int i = 0; i <= steps; i++) {
        const double t = steps ? (double)i / steps : 0;
        put_char(canvas, ca + fw_whole(t * (cb - ca)),
                 ra + fw_whole(t * (rb - ra)), c);
    }
}

/* The number goes outside the field where it can. */
static void draw_corner(struct canvas *canvas, const struct fw_field *field,
                        size_t corner)
{
    const struct fw_point p = field->vertices[field->corners[corner]].plane;
    int column, row;
    to_cell(canvas, p, &column, &row);
    put_char(canvas, column, row, '+');
    char number[8];
    const int n = snprintf(number, sizeof number, "%u", (unsigned)corner + 1);
    const bool right = p.x_m > (canvas->x0 + canvas->x1) / 2;
    const int start = right ? column + 1 : column - n;
    for (int i = 0; i < n; i++)
        put_char(canvas, start + i, row, number[i]);
}

static void draw(struct fw_text *text, const struct fw_field *field)
{
    struct canvas canvas;
    canvas_init(&canvas, field);
    for (size_t r = 0; r < field->ring_count; r++)
        for (size_t i = field->ring_start[r]; i < field->ring_start[r + 1];
             i++) {
            const size_t next =
                i + 1 < field->ring_start[r + 1] ? i + 1 : field->ring_start[r];
            draw_edge(&canvas, field->vertices[i].plane,
                      field->vertices[next].plane);
        }
    for (size_t i = 0; i < field->corner_count; i++)
        draw_corner(&canvas, field, i);
    for (size_t r = 0; r < rows; r++) {
        size_t length = columns;
        while (length > 0 && canvas.cells[r][length - 1] == ' ')
            length--;
        if (length == 0)
            continue;
        fw_text_add(text, "  ");
        fw_text_add_bytes(text, canvas.cells[r], length);
        fw_text_add(text, "\n");
    }
    fw_text_add(text, "  (north is up)\n");
}

static const char *holds_word(enum fw_holds holds)
{
    static const char *const words[] = {"not told what it holds",
                                        "holds nothing", "holds sheep",
                                        "holds sheep and lambs"};
    return words[holds];
}

static const char *hot_word(enum fw_answer hot)
{
    static const char *const words[] = {"not told if hot", "not hot", "hot"};
    return words[hot];
}

/* Beside it, or below where that is too long. */
static void say_side(struct fw_text *text, const struct fw_farm_side *side)
{
    enum { room = 33, below = 10 };
    char words[FW_WORDS * 2];
    const bool untold =
        side->holds == FW_HOLDS_UNTOLD && side->hot == FW_UNTOLD;
    const int wide =
        untold ? snprintf(words, sizeof words, "nothing is told of it")
               : snprintf(words, sizeof words, "%s, %s",
                          holds_word(side->holds), hot_word(side->hot));
    if (wide > room)
        fw_text_addf(text, "\n%*s", below, "");
    else
        fw_text_add(text, "  ");
    fw_text_add(text, words);
}

static void sides(struct fw_text *text, const struct fw_farm *farm,
                  const struct fw_farm_field *field, bool said)
{
    const struct fw_field *shape = field->shape;
    enum { most_sides = 24 };
    for (size_t i = 0; i < shape->corner_count && i < most_sides; i++) {
        char length[FW_WORDS];
        const struct fw_vertex *a = &shape->vertices[shape->corners[i]];
        const struct fw_vertex *b =
            &shape->vertices[shape->corners[(i + 1) % shape->corner_count]];
        fw_text_addf(
            text, "  side %-2zu from corner %-2zu %8s  %-10s", i + 1, i + 1,
            fw_report_length(fw_field_side_m(shape, i), farm->units, length),
            fw_report_compass(fw_geo_bearing_deg(a->lonlat, b->lonlat)));
        if (said && field->sides)
            say_side(text, &field->sides[i]);
        fw_text_add(text, "\n");
    }
    if (shape->corner_count > most_sides)
        fw_text_addf(text, "  and %zu more sides\n",
                     shape->corner_count - most_sides);
}

/* Of a part of a field. */
static void border(struct fw_text *text, const struct fw_farm_field *field)
{
    fw_text_addf(text, "  part of %s, fenced for itself: its grass is %s\n",
                 field->border.whole->name,
                 field->border.condition
                     ? fw_forage_condition_words[field->border.condition]
                     : "as told for the field");
    if (field->front.given && !field->front.text[0])
        fw_text_add(text, "  they come in through the fence on its border\n");
}

static void front(struct fw_text *text, const struct fw_farm *farm,
                  const struct fw_farm_field *field)
{
    char behind[FW_WORDS], beyond[FW_WORDS];
    fw_text_addf(
        text, "  front %s: %s behind it is grazed, %s beyond it is not\n",
        field->front.text,
        fw_report_area(field->front.behind_m2 / 1e4, farm->units, behind),
        fw_report_area(field->grazed->ellipsoid_m2 / 1e4, farm->units, beyond));
}

static void spots(struct fw_text *text, const struct fw_farm *farm,
                  const struct fw_farm_field *field)
{
    if (field->gate.given)
        fw_text_addf(text, "  gate at %s\n", field->gate.text);
    else
        fw_text_add(text, "  no gate told: say --gate corner:N or gate: "
                          "corner:N\n");
    if (field->water.given)
        fw_text_addf(text, "  water at %s\n", field->water.text);
    if (field->border.whole)
        border(text, field);
    if (field->front.given && field->front.text[0])
        front(text, farm, field);
    if (field->front.named)
        fw_text_addf(text, "  front %s of %s, whose ground and names stay\n",
                     field->front.text, farm->earlier_path);
}

static void field_head(struct fw_text *text, const struct fw_farm *farm,
                       const struct fw_farm_field *field, bool colour)
{
    const struct fw_field *shape = field->shape;
    char area[FW_WORDS], perimeter[FW_WORDS];
    struct fw_text words = {0};
    fw_text_addf(&words, "%s: %s, %s round, %zu corners", shape->name,
                 fw_report_area(shape->ellipsoid_m2 / 1e4, farm->units, area),
                 fw_report_length(shape->perimeter_m, farm->units, perimeter),
                 shape->corner_count);
    if (shape->ring_count > 1)
        fw_text_addf(&words, ", %zu pond%s or hole%s inside",
                     shape->ring_count - 1, shape->ring_count > 2 ? "s" : "",
                     shape->ring_count > 2 ? "s" : "");
    fw_report__heading_text(text, colour, &words);
}

static void accuracy(struct fw_text *text, const struct fw_farm_field *field,
                     enum fw_units units)
{
    char within[FW_WORDS];
    fw_say_measured(field->crs_accuracy_m, 0, units, FW_UP, within);
    if (field->crs_accuracy_m > 1)
        fw_text_addf(text,
                     "  ! its coordinate system is known to within %s: a phone "
                     "will stand that far off\n",
                     within);
    else if (field->crs_accuracy_m < 0)
        fw_text_add(text, "  how well its coordinate system is known is not "
                          "stated\n");
    else if (field->crs_accuracy_m > 0)
        fw_text_addf(text, "  its coordinate system is known to within %s\n",
                     within);
}

static void one_line(struct fw_text *text, const struct fw_farm *farm,
                     const struct fw_farm_field *field)
{
    char area[FW_WORDS], perimeter[FW_WORDS];
    fw_text_addf(
        text, "%-32s %10s %9s round  %zu corners\n", field->shape->name,
        fw_report_area(field->shape->ellipsoid_m2 / 1e4, farm->units, area),
        fw_report_length(field->shape->perimeter_m, farm->units, perimeter),
        field->shape->corner_count);
}

void fw_report__field_seen(struct fw_text *text, const struct fw_farm *farm,
                           size_t index)
{
    const struct fw_farm_field *field = &farm->fields[index];
    if (farm->field_count > most_drawn) {
        one_line(text, farm, field);
        return;
    }
    field_head(text, farm, field, false);
    draw(text, field->shape);
    sides(text, farm, field, false);
    accuracy(text, field, farm->units);
}

static void tidied(struct fw_text *text, const struct fw_farm *farm)
{
    if (farm->turned_rings)
        fw_text_addf(text, "%zu ring%s ran the other way round\n",
                     farm->turned_rings, farm->turned_rings == 1 ? "" : "s");
    if (farm->repeated_points)
        fw_text_addf(text, "%zu point%s given twice, taken once\n",
                     farm->repeated_points,
                     farm->repeated_points == 1 ? "" : "s");
}

static void missing(struct fw_text *text, const struct fw_farm *farm)
{
    const struct fw_sward *sward = &farm->fields[0].sward;
    if (farm->class_count == 0)
        fw_text_add(text, "For a plan, still to say: --head, --weight and "
                          "--class, or flock: in a farm file\n");
    if (!(sward->mass_kg_ha > 0) && !(sward->height_m > 0))
        fw_report_fold(text, 0,
                       "For a plan, still to say: --height, --leave and "
                       "--sward, or --mass and --residual");
    if (farm->start_day == FW_NO_DAY)
        fw_text_add(text, "For a plan, still to say: --start, the first "
                          "day\n");
}

enum fw_status fw_report_check(const struct fw_farm *farm, bool colour,
                               char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    double ha = 0;
    fw_report_first(&text);
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_farm_field *field = &farm->fields[i];
        ha += field->shape->ellipsoid_m2 / 1e4;
        if (farm->field_count > most_drawn) {
            one_line(&text, farm, field);
            continue;
        }
        field_head(&text, farm, field, colour);
        draw(&text, field->shape);
        sides(&text, farm, field, true);
        spots(&text, farm, field);
        accuracy(&text, field, farm->units);
        fw_text_add(&text, "\n");
    }
    fw_report__check_volts(&text, farm);
    const enum fw_status status = fw_report__check_covers(&text, farm, err);
    if (status) {
        fw_text_release(&text);
        return status;
    }
    char area[FW_WORDS];
    fw_text_addf(&text, "%zu field%s, %s\n", farm->field_count,
                 farm->field_count == 1 ? "" : "s",
                 fw_report_area(ha, farm->units, area));
    tidied(&text, farm);
    missing(&text, farm);
    return fw_report_give(&text, out, NULL, err);
}
