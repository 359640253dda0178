/* Strips along the contour: each fence follows one height as nearly as a few
 * straight runs can, so that nobody carries it up and down the slope and no
 * paddock has its feed at one end and its lying place far above it. The lines
 * of the heights only give the shapes; the places are exact. */
#include "layout/contour.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>
#include <stdio.h>

static const double slack_steps = 2; /* of the grid: levels are that rough */

enum {
    most_shapes = FW_MOST_BENDS + 2,
    most_cuts = FW_EFFORT(300),
    most_work = FW_EFFORT(30000000), /* corners times lines and nodes */
    nodes = FW_EFFORT(3600),
    leg_samples = FW_EFFORT(8)
};

/* ---- one line ---- */

struct stage {
    struct fw_plots *plots;
    const struct fw_surface *surface;
    double density;
    const double *level_m;  /* of the lines */
    struct fw_region rest;  /* what is not cut yet */
    struct fw_contour last; /* the line before, once there is one */
};

static double width_m(const struct stage *stage,
                      const struct fw_contour_wish *wish, struct fw_point a,
                      struct fw_point b)
{
    return wish->holds / (stage->density * fw_point_apart_m(b, a));
}

/* The line before, a strip's width further uphill, which is to its right. */
static struct fw_contour shifted(const struct stage *stage,
                                 const struct fw_contour_wish *wish)
{
    struct fw_contour line = stage->last;
    const struct fw_point a = line.at[0], b = line.at[line.count - 1];
    const double by = width_m(stage, wish, a, b) / fw_point_apart_m(b, a);
    for (size_t i = 0; i < line.count; i++) {
        line.at[i].x_m += (b.y_m - a.y_m) * by;
        line.at[i].y_m -= (b.x_m - a.x_m) * by;
    }
    return line;
}

static double climb_m(const struct fw_raster *heights,
                      const struct fw_contour *line)
{
    double least_m = HUGE_VAL, most_m = -HUGE_VAL;
    for (size_t i = 0; i + 1 < line->count; i++)
        for (int s = 0; s <= leg_samples; s++) {
            const struct fw_point a = line->at[i], b = line->at[i + 1];
            const double t = s / (double)leg_samples;
            const double m = fw_raster_at_point(
                heights, (struct fw_point){a.x_m + (b.x_m - a.x_m) * t,
                                           a.y_m + (b.y_m - a.y_m) * t});
            least_m = fmin(least_m, m);
            most_m = fmax(most_m, m);
        }
    return most_m - least_m;
}

/* As many bends as the ground has; where that line would meet another one, the
 * shape of the one before; then with fewer and fewer bends. */
static size_t list_shapes(const struct stage *stage,
                          const struct fw_contour_wish *wish,
                          const struct fw_point *run, size_t count,
                          struct fw_contour shapes[most_shapes])
{
    size_t n = 0;
    if (count >= 2) {
        const double tolerance_m = FW_CONTOUR_BEND_SHARE *
                                   width_m(stage, wish, run[0], run[count - 1]);
        shapes[n++] =
            fw_contour_simplify(run, count, FW_MOST_BENDS, tolerance_m);
        if (stage->last.count > 0)
            shapes[n++] = shifted(stage, wish);
        for (size_t bends = shapes[0].count - 2; bends-- > 0;)
            shapes[n++] = fw_contour_simplify(run, count, bends, tolerance_m);
    } else if (stage->last.count > 0) {
        shapes[n++] = shifted(stage, wish);
    }
    return n;
}

static struct fw_contour_wish wish_of(const struct stage *stage, size_t k)
{
    const double holds =
        stage->plots->behind[k] - fw_plots_before(stage->plots, k);
    return (struct fw_contour_wish){
        .holds = holds,
        .slack_m = slack_steps * stage->surface->step_m,
        .clear_m = fmin(FW_CONTOUR_CLEAR_M,
                        FW_CONTOUR_CLEAR_SHARE * sqrt(holds / stage->density)),
    };
}

/* Whole only where it fits and does not climb. */
static enum fw_status find_line(struct stage *stage, size_t k,
                                struct fw_contour_fit *fit,
                                struct fw_error *err)
{
    struct fw_plots *plots = stage->plots;
    const struct fw_contour_wish wish = wish_of(stage, k);
    struct fw_contour shapes[most_shapes];
    struct fw_point *run = NULL;
    size_t count = 0;
    enum fw_status status =
        fw_surface_trace(stage->surface, stage->level_m[k], &run, &count, err);
    if (status)
        return status;
    const size_t n = list_shapes(stage, &wish, run, count, shapes);
    fw_free(run);
    plots->whole = false;
    for (size_t i = 0; !status && !plots->whole && i < n; i++) {
        fit->line = shapes[i];
        status = fw_contour_settle(&plots->subdivision, &stage->rest, &wish,
                                   fit, &plots->whole, err);
        plots->whole =
            plots->whole && climb_m(stage->surface->heights, &fit->line) <=
                                FW_CONTOUR_CLIMB * stage->surface->range_m;
    }
    return status;
}

/* Part off what lies below the next line. */
static enum fw_status cut_off(struct stage *stage, size_t k,
                              struct fw_error *err)
{
    struct fw_contour_fit fit;
    struct fw_region parts[2];
    enum fw_status status = find_line(stage, k, &fit, err);
    if (status || !stage->plots->whole)
        return status;
    const struct fw_split split = {.from = fit.from,
                                   .to = fit.to,
                                   .by = fit.line.at + 1,
                                   .by_count = fit.line.count - 2,
                                   .role = FW_LINE_MOVED};
    status = fw_subdivision_split(&stage->plots->subdivision, &stage->rest,
                                  &split, parts, err);
    if (status)
        return status;
    fw_region_release(&stage->rest);
    stage->plots->regions[k] = parts[0];
    stage->rest = parts[1];
    stage->last = fit.line;
    return FW_OK;
}

/* ---- all of them ---- */

static enum fw_status cut_all(struct stage *stage, struct fw_error *err)
{
    struct fw_plots *plots = stage->plots;
    enum fw_status status =
        fw_subdivision_whole(&plots->subdivision, &stage->rest, err);
    if (status)
        return status;
    size_t done = 0;
    while (!status && plots->whole && done + 1 < plots->count) {
        status = cut_off(stage, done, err);
        done += !status && plots->whole;
    }
    plots->regions[done] = stage->rest;
    if (status || !plots->whole)
        fw_regions_release(plots->regions, done + 1);
    return status;
}

static enum fw_status cut(const void *data, struct fw_plots *plots,
                          struct fw_error *err)
{
    const size_t cuts = plots->count - 1;
    const double all = plots->behind[cuts];
    double *share = fw_alloc(2 * cuts, sizeof *share);
    if (!share)
        return fw_fail_memory(err);
    struct stage stage = {.plots = plots,
                          .surface = data,
                          .density = all / plots->subdivision.field->area_m2,
                          .level_m = share + cuts};
    for (size_t k = 0; k < cuts; k++)
        share[k] = plots->behind[k] / all;
    enum fw_status status =
        fw_surface_levels(stage.surface, share, cuts, share + cuts, err);
    if (!status)
        status = cut_all(&stage, err);
    fw_free(share);
    return status;
}

/* ---- the pattern ---- */

/* Up the slope, or down it on the surface turned over. */
static enum fw_status offer(const struct fw_layout_request *request,
                            const struct fw_layout_shares *shares, bool down,
                            struct fw_layout_list *list, struct fw_error *err)
{
    struct fw_surface surface;
    enum fw_status status =
        fw_surface_new(request, down ? -1 : 1, &surface, err);
    if (status)
        return status;
    struct fw_design design = {.pattern = "contour",
                               .direction_deg = surface.uphill_deg,
                               .count = shares->count,
                               .cut = cut,
                               .data = &surface};
    snprintf(design.name, sizeof design.name, "contour-%s",
             down ? "down" : "up");
    if (surface.range_m >= FW_CONTOUR_RANGE_M &&
        surface.mean_slope >= FW_CONTOUR_SLOPE)
        status = fw_layout__offer(request, shares, &design, list, err);
    fw_surface_release(&surface);
    return status;
}

enum fw_status fw_layout__contour(const struct fw_layout_request *request,
                                  const struct fw_layout_shares *shares,
                                  struct fw_layout_list *list,
                                  struct fw_error *err)
{
    const double work =
        (double)request->field->vertex_count * (double)(shares->count + nodes);
    if (request->pattern && !request->heights)
        return fw_fail(err, FW_EPLAN,
                       "strips along the contour need the heights of the "
                       "ground; give the farm a `dem`, or take another "
                       "pattern");
    if (!request->heights || shares->count < 2 ||
        shares->count - 1 > most_cuts || work > most_work)
        return FW_OK;
    const enum fw_status status = offer(request, shares, false, list, err);
    return status ? status : offer(request, shares, true, list, err);
}
