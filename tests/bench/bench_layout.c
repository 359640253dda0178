/* How much time of one core all patterns in all directions take, against what
 * was promised, and how it grows with the vertices. The best of several runs
 * counts; a slow machine may set FW_BENCH_FACTOR to widen the limits.
 * `--svg FILE` draws the growth. */
#include "lobes.h"

#include "geo/geo.h"
#include <foldwright/layout.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

struct plot {
    struct fw_vertex *vertices;
    size_t ring_start[8];
    size_t corners[4];
    struct fw_field field;
};

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static void add_ring(struct plot *plot, struct fw_point centre, double radius_m,
                     size_t count, int way, enum outline outline,
                     uint64_t *seed)
{
    struct fw_field *field = &plot->field;
    struct fw_vertex *ring = plot->vertices + field->vertex_count;
    struct fw_point *points = calloc(count, sizeof *points);
    double twice = 0, around_m = 0;
    if (!points)
        exit(99);
    lobes(points, centre, radius_m, count, way, outline, seed);
    for (size_t i = 0, j = count - 1; i < count; j = i++) {
        const struct fw_point a = points[j], b = points[i];
        ring[i].plane = b;
        twice += a.x_m * b.y_m - b.x_m * a.y_m;
        around_m += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    }
    free(points);
    *(field->ring_count ? &field->holes_m : &field->perimeter_m) += around_m;
    field->vertex_count += count;
    plot->ring_start[++field->ring_count] = field->vertex_count;
    field->area_m2 += twice / 2;
}

static void set_up(struct plot *plot, size_t vertices, size_t ponds,
                   enum outline outline)
{
    uint64_t seed = 42;
    *plot = (struct plot){
        .vertices = calloc(vertices + 12 * ponds, sizeof *plot->vertices)};
    if (!plot->vertices)
        exit(99);
    add_ring(plot, (struct fw_point){0, 0}, 600, vertices, 1, outline, &seed);
    for (size_t i = 0; i < ponds; i++)
        add_ring(plot,
                 (struct fw_point){250 * cos((double)i), 250 * sin((double)i)},
                 30, 12, -1, outline, &seed);
    for (size_t i = 0; i < 4; i++) /* clockwise */
        plot->corners[i] = (3 - i) * vertices / 4;
    plot->field.vertices = plot->vertices;
    plot->field.ring_start = plot->ring_start;
    plot->field.corners = plot->corners;
    plot->field.corner_count = 4;
}

/* The best of so many runs, or of as many as fit into a second or two. */
static double best_s(const struct plot *plot, size_t paddocks,
                     const char *pattern, bool bends, size_t runs)
{
    const double target = plot->field.area_m2 / ((double)paddocks - 0.5);
    const struct fw_layout_request request = {
        .field = &plot->field,
        .target = &target,
        .target_count = 1,
        .start = &plot->vertices[plot->corners[0]].plane,
        .pattern = pattern,
        .bends = bends};
    double best = HUGE_VAL;
    const double begun_s = now_s();
    for (size_t i = 0; i < runs && (i == 0 || now_s() - begun_s < 1.5); i++) {
        struct fw_layout_list list = {0};
        const double start_s = now_s();
        const enum fw_status status =
            fw_layout_candidates(&request, &list, NULL);
        best = fmin(best, now_s() - start_s);
        if (status && (!pattern || status != FW_EPLAN))
            exit(99);
        fw_layout_list_release(&list);
    }
    return best;
}

/* ---- promises ---- */

static const struct {
    size_t vertices, ponds, paddocks;
    enum outline outline;
    double limit_s; /* 0: nothing was promised */
    bool bends;
} rows[] = {
    {50, 0, 30, SMOOTH, 5e-3, false},     {1000, 0, 365, SMOOTH, 85e-3, false},
    {1000, 6, 365, SMOOTH, 85e-3, false}, {1000, 0, 365, ROUGH, 0, false},
    {1000, 6, 365, ROUGH, 0, false},      {50, 0, 30, SMOOTH, 0, true},
    {1000, 0, 365, SMOOTH, 0, true},
};

static int keep_promises(double factor)
{
    int slow = 0;
    printf("%-14s %8s %8s %6s %8s %10s %10s\n", "all patterns", "outline",
           "vertices", "ponds", "paddocks", "best ms", "limit ms");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct plot plot;
        set_up(&plot, rows[i].vertices, rows[i].ponds, rows[i].outline);
        const double s =
            best_s(&plot, rows[i].paddocks, NULL, rows[i].bends, 40);
        const double limit_s = rows[i].limit_s * factor;
        const bool late = limit_s > 0 && s > limit_s;
        printf("%-14s %8s %8zu %6zu %8zu %10.2f ", rows[i].bends ? "bent" : "",
               outline_name(rows[i].outline), rows[i].vertices, rows[i].ponds,
               rows[i].paddocks, 1e3 * s);
        if (limit_s > 0)
            printf("%10.1f%s\n", 1e3 * limit_s, late ? "  too slow" : "");
        else
            printf("%10s\n", "-");
        slow += late;
        free(plot.vertices);
    }
    return slow;
}

/* Where the time goes. */
static void tell_patterns(void)
{
    struct plot small, large;
    set_up(&small, 50, 0, SMOOTH);
    set_up(&large, 1000, 0, SMOOTH);
    printf("\nsmooth outline\n%-14s %18s %18s\n", "pattern", "50 x 30, ms",
           "1000 x 365, ms");
    const char *name;
    for (size_t row = 0; (name = fw_layout_pattern(row, NULL)); row++)
        printf("%-14s %18.3f %18.2f\n", name,
               1e3 * best_s(&small, 30, name, false, 20),
               1e3 * best_s(&large, 365, name, false, 10));
    free(small.vertices);
    free(large.vertices);
}

/* ---- growth ---- */

enum { sizes = 7 };
static const size_t size_of[sizes] = {100,   300,   1000,  3000,
                                      10000, 30000, 100000};

static void grow(double *s)
{
    printf("\nsmooth outline\n%10s %12s %16s\n", "vertices", "best ms",
           "us a vertex");
    for (size_t i = 0; i < sizes; i++) {
        struct plot plot;
        set_up(&plot, size_of[i], 0, SMOOTH);
        s[i] = best_s(&plot, 30, NULL, false, 10);
        printf("%10zu %12.2f %16.3f\n", size_of[i], 1e3 * s[i],
               1e6 * s[i] / (double)size_of[i]);
        free(plot.vertices);
    }
}

/* Both axes by decades: 100 to 100,000 vertices, 1 ms to 10 s. */
static double across(double vertices)
{
    return 70 + 160 * (log10(vertices) - 2);
}

static double up(double s)
{
    return 330 - 75 * (log10(s) + 3);
}

static void draw_axes(FILE *out)
{
    static const char *const times[] = {"1 ms", "10 ms", "100 ms", "1 s",
                                        "10 s"};
    static const char *const counts[] = {"100", "1 000", "10 000", "100 000"};
    for (int i = 0; i < 5; i++)
        fprintf(out,
                "<path d=\"M70 %.0fH550\"/><text x=\"62\" y=\"%.0f\" "
                "text-anchor=\"end\">%s</text>\n",
                up(pow(10, i - 3)), up(pow(10, i - 3)) + 4, times[i]);
    for (int i = 0; i < 4; i++)
        fprintf(out,
                "<path d=\"M%.0f 30V330\"/><text x=\"%.0f\" y=\"348\" "
                "text-anchor=\"middle\">%s</text>\n",
                across(pow(10, i + 2)), across(pow(10, i + 2)), counts[i]);
}

static int draw_growth(const char *path, const double *s)
{
    FILE *out = fopen(path, "w");
    if (!out) {
        perror(path);
        return 1;
    }
    fputs("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 590 380\" "
          "font-family=\"sans-serif\" font-size=\"12\">\n"
          "<rect width=\"590\" height=\"380\" fill=\"#fff\"/>\n"
          "<text x=\"310\" y=\"18\" text-anchor=\"middle\">All patterns in 180 "
          "directions, 30 paddocks, one core</text>\n"
          "<g stroke=\"#bbb\" fill=\"none\" stroke-width=\"1\" "
          "style=\"paint-order:stroke\">\n",
          out);
    fputs("<style>text{fill:#222;stroke:none}</style>\n", out);
    draw_axes(out);
    fputs("</g>\n<text x=\"310\" y=\"370\" text-anchor=\"middle\">vertices of "
          "the field</text>\n",
          out);
    /* what m log m would be, through the last of the small ones */
    fputs("<path fill=\"none\" stroke=\"#888\" stroke-dasharray=\"4 4\" "
          "d=\"",
          out);
    for (size_t i = 2; i < sizes; i++) {
        const double m = (double)size_of[i], m0 = (double)size_of[2];
        fprintf(out, "%c%.1f %.1f", i == 2 ? 'M' : 'L', across(m),
                up(s[2] * m * log(m) / (m0 * log(m0))));
    }
    fputs("\"/>\n<text x=\"400\" y=\"230\" fill=\"#666\">dashed: m log m"
          "</text>\n<path fill=\"none\" stroke=\"#206040\" "
          "stroke-width=\"2\" d=\"",
          out);
    for (size_t i = 0; i < sizes; i++)
        fprintf(out, "%c%.1f %.1f", i ? 'L' : 'M', across((double)size_of[i]),
                up(s[i]));
    fputs("\"/>\n", out);
    for (size_t i = 0; i < sizes; i++)
        fprintf(out,
                "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"3.5\" "
                "fill=\"#206040\"/>\n",
                across((double)size_of[i]), up(s[i]));
    fputs("</svg>\n", out);
    return fclose(out) != 0;
}

int main(int argc, char **argv)
{
    const char *given = getenv("FW_BENCH_FACTOR");
    double s[sizes];
    const int slow = keep_promises(given ? strtod(given, NULL) : 1);
    tell_patterns();
    grow(s);
    if (argc == 3 && strcmp(argv[1], "--svg") == 0 && draw_growth(argv[2], s))
        return 1;
    return slow ? 1 : 0;
}
