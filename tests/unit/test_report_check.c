/* What `check` says of fields by hand: the drawing in letters read back against
 * their corners and sides, figures against theirs. */
#include "fields_by_hand.h"
#include "read_back.h"

#include "export/export.h"
#include "io/io.h"
#include "report/reports.h"

static char *checked(const struct fw_farm *farm)
{
    struct fw_error err;
    static char *text;
    if (fw_report_check(farm, false, &text, &err))
        fail_msg("%s", err.text);
    return text;
}

/* ---- the drawing ---- */

enum { columns = 60, rows = 22 };

struct drawing {
    char cells[rows][columns + 1];
    size_t row_count;
    const struct fw_field *field;
    double x0, x1, y1, scale; /* columns to the metre, twice the rows */
};

/* As wide as 53 letters or as high as 19; a letter is twice as high as it is
 * wide. Left of it is room for two figures, above it for a row. */
static void read_drawing(const char *text, const struct fw_field *field,
                         struct drawing *out)
{
    memset(out, 0, sizeof *out);
    out->field = field;
    double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
    for (size_t i = 0; i < field->vertex_count; i++) {
        const struct fw_point p = field->vertices[i].plane;
        x0 = p.x_m < x0 ? p.x_m : x0;
        x1 = p.x_m > x1 ? p.x_m : x1;
        y0 = p.y_m < y0 ? p.y_m : y0;
        y1 = p.y_m > y1 ? p.y_m : y1;
    }
    out->x0 = x0;
    out->x1 = x1;
    out->y1 = y1;
    out->scale =
        53 / (x1 - x0) < 38 / (y1 - y0) ? 53 / (x1 - x0) : 38 / (y1 - y0);
    char head[80];
    snprintf(head, sizeof head, "%.20s", field->name);
    const char *line = strstr(text, head);
    assert_non_null(line);
    memset(out->cells, ' ', sizeof out->cells);
    /* The row above a drawing is empty, and empty rows are not printed. */
    for (out->row_count = 1;; out->row_count++) {
        line = strchr(line, '\n') + 1;
        if (!strncmp(line, "  (north is up)\n", 16))
            break;
        assert_memory_equal(line, "  ", 2);
        const size_t length = strcspn(line + 2, "\n");
        assert_true(length <= columns && out->row_count < rows);
        assert_true(line[length + 1] != ' ');
        memcpy(out->cells[out->row_count], line + 2, length);
    }
}

static double column_of(const struct drawing *of, struct fw_point p)
{
    return 3 + (p.x_m - of->x0) * of->scale;
}

static double row_of(const struct drawing *of, struct fw_point p)
{
    return 1 + (of->y1 - p.y_m) * of->scale / 2;
}

/* At the cell, or at the next where it lies half way between two. */
static char cell(const struct drawing *of, double column, double row)
{
    assert_true(row > -0.5 && row < rows - 0.5);
    assert_true(column > -0.5 && column < columns - 0.5);
    return of->cells[lround(row)][lround(column)];
}

static bool holds_sign(char c)
{
    return c && strchr("-|/\\", c);
}

static void corners_are_numbered(const struct drawing *of)
{
    for (size_t i = 0; i < of->field->corner_count; i++) {
        const struct fw_point p =
            of->field->vertices[of->field->corners[i]].plane;
        const long column = lround(column_of(of, p));
        const char *row = of->cells[lround(row_of(of, p))];
        assert_int_equal(row[column], '+');
        char number[24];
        const int n = snprintf(number, sizeof number, "%zu", i + 1);
        const bool right = p.x_m > (of->x0 + of->x1) / 2;
        if (strncmp(row + (right ? column + 1 : column - n), number,
                    (size_t)n) != 0)
            fail_msg("corner %zu has no number beside it in \"%.60s\"", i + 1,
                     row);
    }
}

/* The sign of a line by how it leans in cells: level under 1 in 2, upright over
 * 2 in 1. */
static char sign_of(const struct drawing *of, struct fw_point a,
                    struct fw_point b)
{
    const long wide = lround(column_of(of, b)) - lround(column_of(of, a));
    const long high = lround(row_of(of, b)) - lround(row_of(of, a));
    if (2 * labs(high) < labs(wide))
        return '-';
    if (2 * labs(wide) < labs(high))
        return '|';
    return (wide > 0) == (high > 0) ? '\\' : '/';
}

/* Every cell along it has a sign, its own one in most of them: numbers, corners
 * and other lines may stand over it. */
static void line_is_drawn(const struct drawing *of, struct fw_point a,
                          struct fw_point b)
{
    const double wide = column_of(of, b) - column_of(of, a);
    const double high = row_of(of, b) - row_of(of, a);
    const int steps = (int)ceil(fmax(fabs(wide), fabs(high)));
    const char wanted = sign_of(of, a, b);
    int own = 0, seen = 0;
    for (int i = 1; i < steps; i++) {
        const double t = (double)i / steps;
        const double column = column_of(of, a) + t * wide;
        const double row = row_of(of, a) + t * high;
        bool any = false, mine = false;
        for (int k = -1; k <= 1; k++) {
            /* Across the line, by less than a cell. */
            const double x = fabs(wide) > fabs(high) ? 0 : 0.9 * k;
            const double y = fabs(wide) > fabs(high) ? 0.9 * k : 0;
            const char c = cell(of, column + x, row + y);
            any |= c != ' ';
            mine |= c == wanted;
        }
        assert_true(any);
        own += mine;
        seen++;
    }
    assert_true(seen <= 2 || 3 * own >= 2 * seen);
}

/* Nothing else is drawn. */
static void signs_lie_on_lines(const struct drawing *of)
{
    const struct fw_field *field = of->field;
    for (int row = 0; row < rows; row++)
        for (int column = 0; column < columns; column++) {
            if (!holds_sign(of->cells[row][column]))
                continue;
            double nearest = 1e9;
            for (size_t r = 0; r < field->ring_count; r++)
                for (size_t i = field->ring_start[r];
                     i < field->ring_start[r + 1]; i++) {
                    const size_t next = i + 1 < field->ring_start[r + 1]
                                            ? i + 1
                                            : field->ring_start[r];
                    const struct fw_point here = {column, row};
                    const struct fw_point a = {
                        column_of(of, field->vertices[i].plane),
                        row_of(of, field->vertices[i].plane)};
                    const struct fw_point b = {
                        column_of(of, field->vertices[next].plane),
                        row_of(of, field->vertices[next].plane)};
                    nearest = fmin(nearest, fw_segment_distance_m(here, a, b));
                }
            assert_true(nearest < 1.01);
        }
}

static void is_drawn(const struct fw_field *shape)
{
    struct fw_farm_field only = {.shape = (struct fw_field *)shape};
    struct fw_farm farm = fields_by_hand();
    farm.fields = &only;
    farm.field_count = 1;
    struct drawing drawing;
    char *text = checked(&farm);
    read_drawing(text, shape, &drawing);
    corners_are_numbered(&drawing);
    for (size_t r = 0; r < shape->ring_count; r++)
        for (size_t i = shape->ring_start[r]; i < shape->ring_start[r + 1]; i++)
            line_is_drawn(&drawing, shape->vertices[i].plane,
                          shape
                              ->vertices[i + 1 < shape->ring_start[r + 1]
                                             ? i + 1
                                             : shape->ring_start[r]]
                              .plane);
    signs_lie_on_lines(&drawing);
    fw_bytes_free(text);
}

static void is_drawn_ring(struct fw_vertex *ring, size_t count)
{
    size_t starts[] = {0, count}, clockwise[40];
    for (size_t i = 0; i < count; i++)
        clockwise[i] = (count - i) % count;
    const struct fw_field shape = {.name = (char *)"Odd",
                                   .vertices = ring,
                                   .vertex_count = count,
                                   .ring_start = starts,
                                   .ring_count = 1,
                                   .corners = clockwise,
                                   .corner_count = count,
                                   .ellipsoid_m2 = 1e4,
                                   .perimeter_m = 400};
    is_drawn(&shape);
}

static void drawings_are_the_fields(void **state)
{
    (void)state;
    struct fw_vertex diamond[] = {{.plane = {0, 100}},
                                  {.plane = {40, 0}},
                                  {.plane = {80, 100}},
                                  {.plane = {40, 200}}};
    /* Cells of 2 m by 4 m: lines of just 1 in 2 and 2 in 1. */
    struct fw_vertex halves[] = {{.plane = {0, 0}},
                                 {.plane = {106, 0}},
                                 {.plane = {106, 60}},
                                 {.plane = {30, 60}},
                                 {.plane = {20, 20}}};
    is_drawn(&shapes[0]);
    is_drawn(&shapes[1]);
    is_drawn_ring(diamond, 4);
    is_drawn_ring(halves, 5);
}

/* ---- sides, spots, what is said of it ---- */

static void sides_have_length_and_way(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    struct fw_farm_field told = farm_fields[0];
    struct fw_farm_side sides[] = {
        {FW_HOLDS_UNTOLD, FW_UNTOLD}, {FW_HOLDS_NOTHING, FW_NO},
        {FW_HOLDS_SHEEP, FW_YES},     {FW_HOLDS_LAMBS, FW_YES},
        {FW_HOLDS_LAMBS, FW_NO},      {FW_HOLDS_SHEEP, FW_UNTOLD}};
    told.sides = sides;
    farm.fields = &told;
    farm.field_count = 1;
    char *text = checked(&farm);
    static const char *const wanted[] = {
        "  side 1  from corner 1      80 m  north       nothing is told of "
        "it\n",
        "  side 2  from corner 2     120 m  east        holds nothing, "
        "not hot\n",
        "  side 3  from corner 3      40 m  south       holds sheep, "
        "hot\n",
        "  side 4  from corner 4      60 m  west        holds sheep and "
        "lambs, hot\n",
        "  side 5  from corner 5      40 m  south       holds sheep and "
        "lambs, not hot\n",
        "  side 6  from corner 6      60 m  west        holds sheep, "
        "not "
        "told if hot\n",
    };
    for (size_t i = 0; i < 6; i++)
        has_words(text, wanted[i]);
    has_not(text, "more sides");
    has_words(text,
              ": 0.7 ha, 401 m round, 6 corners, 1 pond or hole inside\n");
    fw_bytes_free(text);
    farm.units = FW_US;
    told.sides = NULL;
    text = checked(&farm);
    /* 80 m and 120 m are 262.5 ft and 393.7 ft */
    has_words(text, "  side 1  from corner 1    262 ft  north     \n");
    has_words(text, "  side 2  from corner 2    394 ft  east      \n");
    has_words(text, ": 1.73 acres, 1315 ft round, 6 corners");
    fw_bytes_free(text);
}

/* A ring of many corners, each a side. */
static char *many_sides(size_t count)
{
    struct fw_vertex ring[40];
    size_t starts[] = {0, count}, clockwise[40];
    for (size_t i = 0; i < count; i++) {
        const double turn = 2 * 3.14159265358979 * (double)i / (double)count;
        ring[i] = (struct fw_vertex){
            .plane = {60 * cos(turn), 60 * sin(turn)},
            .lonlat = {9 + 0.001 * cos(turn), 51 + 0.001 * sin(turn)}};
        clockwise[i] = count - 1 - i;
    }
    struct fw_field shape = {.name = (char *)"Round",
                             .vertices = ring,
                             .vertex_count = count,
                             .ring_start = starts,
                             .ring_count = 1,
                             .corners = clockwise,
                             .corner_count = count};
    struct fw_farm_field only = {.shape = &shape};
    struct fw_farm farm = fields_by_hand();
    farm.fields = &only;
    farm.field_count = 1;
    return checked(&farm);
}

static void many_sides_are_counted(void **state)
{
    (void)state;
    char *text = many_sides(24);
    assert_int_equal(times(text, "  side "), 24);
    has_not(text, "more side");
    fw_bytes_free(text);
    text = many_sides(27);
    assert_int_equal(times(text, "  side "), 24);
    has_words(text, "  side 24 from corner 24 ");
    has_words(text, "\n  and 3 more sides\n");
    fw_bytes_free(text);
}

static void spots_are_told(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    struct fw_field beyond = {.ellipsoid_m2 = 4500};
    struct fw_farm_field told[2];
    memcpy(told, farm_fields, sizeof told);
    farm.fields = told;
    told[0].grazed = &beyond;
    told[0].front = (struct fw_farm_front){
        .given = true, .behind_m2 = 2500, .text = "side:2@40m to side:4@35m"};
    char *text = checked(&farm);
    assert_int_equal(times(text, "  no gate told: say --gate corner:N"), 1);
    assert_int_equal(times(text, "  gate at side:1@40m\n"), 1);
    assert_int_equal(times(text, "  water at corner:3\n"), 1);
    has_words(text, "  front side:2@40m to side:4@35m: 0.25 ha behind it is "
                    "grazed, 0.45 ha beyond it is not\n");
    has_not(text, "whose ground and names stay");
    fw_bytes_free(text);
    told[0].front = (struct fw_farm_front){.named = true, .text = "A03-04"};
    farm.earlier_path = (char *)"out/plan.json";
    text = checked(&farm);
    has_words(text, "  front A03-04 of out/plan.json, whose ground and names "
                    "stay\n");
    assert_int_equal(times(text, "  front "), 1);
    fw_bytes_free(text);
}

static void accuracy_is_told(void **state)
{
    (void)state;
    static const struct {
        double m;
        const char *says;
    } said[] = {
        {1.04, "  ! its coordinate system is known to within 1.1 m: a phone "
               "will stand that far off\n"},
        {1, "  its coordinate system is known to within 1 m\n"},
        {0.25, "  its coordinate system is known to within 0.3 m\n"},
        {-1, "  how well its coordinate system is known is not stated\n"},
    };
    struct fw_farm farm = fields_by_hand();
    struct fw_farm_field only = farm_fields[0];
    farm.fields = &only;
    farm.field_count = 1;
    for (size_t i = 0; i < 4; i++) {
        only.crs_accuracy_m = said[i].m;
        char *text = checked(&farm);
        has_words(text, said[i].says);
        assert_int_equal(times(text, "coordinate system"), 1);
        fw_bytes_free(text);
    }
    only.crs_accuracy_m = 0;
    char *text = checked(&farm);
    has_not(text, "coordinate system");
    fw_bytes_free(text);
    farm.units = FW_US;
    only.crs_accuracy_m = 2; /* 6.56 ft */
    text = checked(&farm);
    has_words(text, "within 6.6 ft:");
    fw_bytes_free(text);
}

/* Four are drawn, five are a list. */
static void many_fields_are_a_list(void **state)
{
    (void)state;
    struct fw_farm_field many[5];
    struct fw_farm farm = fields_by_hand();
    for (size_t i = 0; i < 5; i++)
        many[i] = farm_fields[i % 2];
    farm.fields = many;
    farm.field_count = 4;
    char *text = checked(&farm);
    assert_int_equal(times(text, "(north is up)"), 4);
    has_words(text, "\n4 fields, 2.1 ha\n");
    fw_bytes_free(text);
    farm.field_count = 5;
    text = checked(&farm);
    has_not(text, "north is up");
    assert_int_equal(times(text, "  side "), 0);
    assert_int_equal(times(text,
                           "\nSlant                               0.35 ha "
                           "    241 m round  4 corners\n"),
                     2);
    has_words(text, "\n5 fields, 2.8 ha\n");
    fw_bytes_free(text);
    farm.field_count = 1;
    text = checked(&farm);
    has_words(text, "\n1 field, 0.7 ha\n");
    fw_bytes_free(text);
}

static void what_was_tidied_is_counted(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    char *text = checked(&farm);
    has_not(text, "the other way round");
    has_not(text, "given twice");
    fw_bytes_free(text);
    farm.turned_rings = farm.repeated_points = 1;
    text = checked(&farm);
    has_words(text, "\n1 ring ran the other way round\n");
    has_words(text, "\n1 point given twice, taken once\n");
    fw_bytes_free(text);
    farm.turned_rings = 2;
    farm.repeated_points = 3;
    text = checked(&farm);
    has_words(text, "\n2 rings ran the other way round\n");
    has_words(text, "\n3 points given twice, taken once\n");
    fw_bytes_free(text);
}

static void what_a_plan_wants_is_asked_for(void **state)
{
    (void)state;
    static const char *const asked[] = {"--head, --weight and --class",
                                        "--height, --leave and --sward",
                                        "--start, the first day"};
    struct fw_farm farm = fields_by_hand();
    struct fw_farm_field told[2];
    memcpy(told, farm_fields, sizeof told);
    farm.fields = told;
    char *text = checked(&farm);
    for (size_t i = 0; i < 3; i++)
        has_words(text, asked[i]);
    fw_bytes_free(text);
    farm.class_count = 1;
    told[0].sward.mass_kg_ha = 2000;
    text = checked(&farm);
    has_not(text, asked[0]);
    has_not(text, asked[1]);
    has_words(text, asked[2]);
    fw_bytes_free(text);
    farm.start_day = 20577;
    told[0].sward = (struct fw_sward){.height_m = 0.2};
    text = checked(&farm);
    has_not(text, asked[1]);
    has_not(text, "still to say");
    fw_bytes_free(text);
}

/* ---- power lines ---- */

static void parts_of_a_line_are_one(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    enum { most = 42 };
    struct fw_farm_feature lines[most + 4];
    memset(lines, 0, sizeof lines);
    for (size_t i = 0; i < most; i++)
        lines[i] = (struct fw_farm_feature){.role = FW_ROLE_POWER_LINE,
                                            .kind = FW_FEATURE_LINE,
                                            .kv = 20,
                                            .kv_from = FW_KV_MAP,
                                            .row = i + 1};
    farm.features = lines;
    farm.feature_count = 40;
    char *text = checked(&farm);
    assert_int_equal(times(text, ": 20 kV\n"), 40);
    has_not(text, "more: check --json");
    fw_bytes_free(text);
    farm.feature_count = most;
    text = checked(&farm);
    assert_int_equal(times(text, ": 20 kV\n"), 40);
    has_words(text, "\n  and 2 more: check --json has them all\n\n");
    fw_bytes_free(text);

    /* Another map, another row, a road between, a pole. */
    farm.feature_count = 7;
    lines[1].row = 1;
    lines[2].row = 1;
    lines[2].map = 1;
    lines[3].role = FW_ROLE_ROAD;
    lines[4].row = 1;
    lines[4].map = 1;
    lines[5].kind = FW_FEATURE_POINT;
    lines[6].row = 1;
    lines[6].map = 1;
    text = checked(&farm);
    assert_int_equal(times(text, ": 20 kV\n"), 4);
    assert_int_equal(times(text, "maps[0], feature 1: "), 1);
    assert_int_equal(times(text, "maps[1], feature 1: "), 3);
    assert_int_equal(times(text, "Power lines near a field"), 1);
    fw_bytes_free(text);
    farm.feature_count = 0;
    text = checked(&farm);
    has_not(text, "Power lines");
    fw_bytes_free(text);
}

/* ---- for machines ---- */

static void machines_get_every_figure(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    struct fw_farm_field told[2];
    memcpy(told, farm_fields, sizeof told);
    told[0].origin.fid = 7;
    told[0].origin.layer = (char *)"meadows";
    told[1].origin.fid = FW_NO_FID;
    farm.fields = told;
    farm.turned_rings = 3;
    farm.repeated_points = 4;
    struct fw_error err;
    char *text = NULL;
    assert_int_equal(fw_report_check_json(&farm, &text, &err), FW_OK);
    struct json_object *root = parsed(text);
    is_number(root, "turned_rings", 3);
    is_number(root, "repeated_points", 4);
    assert_int_equal(json_object_array_length(of(root, "power_lines")), 0);
    struct json_object *list = of(root, "fields");
    assert_int_equal(json_object_array_length(list), 2);
    for (size_t i = 0; i < 2; i++) {
        struct json_object *field = at(list, i);
        is_text(field, "field", shapes[i].name);
        is_text(field, "source", i ? "" : "low.gpkg");
        is_text(field, "layer", i ? NULL : "meadows");
        is_number(field, "fid", i ? (double)NAN : 7);
        is_number(field, "area_ha", i ? 0.35015 : 0.70015);
        is_number(field, "plane_ha", i ? 0.35005 : 0.70005);
        is_number(field, "perimeter_m", i ? 240.5 : 400.75);
        is_number(field, "inner_m", i ? 0 : 60.25);
        is_number(field, "inner_rings", i ? 0 : 1);
        is_number(field, "crs_accuracy_m", i ? 0.5 : (double)NAN);
        struct json_object *corners = of(field, "corners");
        const size_t n = shapes[i].corner_count;
        assert_int_equal(json_object_array_length(corners), n);
        for (size_t k = 0; k < n; k++) {
            const struct fw_vertex *a =
                &shapes[i].vertices[shapes[i].corners[k]];
            const struct fw_vertex *b =
                &shapes[i].vertices[shapes[i].corners[(k + 1) % n]];
            struct json_object *corner = at(corners, k);
            is_number(corner, "corner", (double)k + 1);
            is_number(corner, "lon", a->lonlat.lon_deg);
            is_number(corner, "lat", a->lonlat.lat_deg);
            assert_near(
                json_object_get_double(of(corner, "side_m")),
                hypot(b->plane.x_m - a->plane.x_m, b->plane.y_m - a->plane.y_m),
                1e-9);
        }
    }
    json_object_put(root);
    fw_bytes_free(text);
    told[1].crs_accuracy_m = 0;
    assert_int_equal(fw_report_check_json(&farm, &text, &err), FW_OK);
    root = parsed(text);
    is_number(at(of(root, "fields"), 1), "crs_accuracy_m", 0);
    json_object_put(root);
    fw_bytes_free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drawings_are_the_fields),
        cmocka_unit_test(sides_have_length_and_way),
        cmocka_unit_test(many_sides_are_counted),
        cmocka_unit_test(spots_are_told),
        cmocka_unit_test(accuracy_is_told),
        cmocka_unit_test(many_fields_are_a_list),
        cmocka_unit_test(what_was_tidied_is_counted),
        cmocka_unit_test(what_a_plan_wants_is_asked_for),
        cmocka_unit_test(parts_of_a_line_are_one),
        cmocka_unit_test(machines_get_every_figure),
    };
    return cmocka_run_group_tests_name("report_check", tests, NULL, NULL);
}
