/* The farm: what a person has told the program, read from a farm file (YAML),
 * from options, or both, checked, with the fields taken into their planes.
 *
 * One schema table serves the file and the options, so that a value is read
 * and refused the same way wherever it was written. What is not told and has a
 * named default is listed in `defaults`; what is dangerous not to know stays
 * untold here, and the plan says so first. */
#ifndef FW_FARM_FARM_H
#define FW_FARM_FARM_H

#include "base/origin.h"
#include "fence/fence.h"
#include "figures/mark.h"
#include "flock/flock.h"
#include "forage/forage.h"
#include "forage/growth.h"
#include "geo/geo.h"
#include "geo/world.h"
#include "plan/terms.h"
#include "power/power.h"
#include "safety/safety.h"
#include "stockpile/stockpile.h"
#include <foldwright/error.h>
#include <foldwright/farm.h>
#include <foldwright/figures.h>
#include <foldwright/layout.h>

struct fw_spot { /* a place on or near a field */
    bool given;
    struct fw_point point; /* in the field's plane */
    struct fw_lonlat lonlat;
    char text[96]; /* as written: "corner:3" */
};

/* A front fence that stands already. What lies on the gate's side of it is
 * grazed and left alone. */
struct fw_farm_front {
    bool given;
    bool *runs; /* of each of `grazed`'s vertices: does it run from there to the
                   next vertex of the ring? */
    struct fw_field **behind; /* the ground on the gate's side: behind_count
                                 pieces in the same plane */
    size_t behind_count;
    double behind_m2;
    double apart_m2; /* not grazed and not reached: pieces beyond it that do not
                        join the greatest, which is planned */
    char text[160];  /* as written: "side:2@40m to side:4@35m" */
    /* Or a moved fence of the plan made before: the ground is that plan's, and
     * what it grazed up to there is grazed. Then `given` is false. */
    bool named;
    size_t fence; /* in fw_farm.earlier */
};

/* Of how the growth of a field was told. */
enum { FW_GROWTH_TEXT = FW_EFFORT(64) };

/* Grass of another condition is a part of its field that is fenced for itself:
 * a field of its own, with a border to the others. */
struct fw_farm_border {
    const struct fw_field *whole; /* the farm's; NULL: the field is no part */
    size_t number;                /* of the part, from 1 */
    size_t *beyond; /* of each of the shape's vertices: number of the part that
                       lies beyond the edge from there to the next vertex of its
                       ring; 0: it is no border */
    enum fw_condition condition; /* as its zones tell; untold: the field's */
};

/* What winter may take of a field's grass: as much as was told, what is in
 * print of the place that was, or of all places where nothing was. */
struct fw_farm_loss {
    double least, most;
    char place[16]; /* "missouri"; "": a share, or nothing */
};

struct fw_farm_field {
    struct fw_field *shape;
    char *source; /* the file it came from, as written */
    char *crs;    /* of that file: what fw_crs_new takes */
    double crs_accuracy_m;
    struct fw_origin origin;
    struct fw_sward sward; /* the farm's, or the field's own */
    double cover_kg_ha;    /* as walked, for check; 0: it was not */
    struct fw_growth growth;
    char growth_text[FW_GROWTH_TEXT]; /* as told: "northern-ireland" */
    struct fw_farm_loss loss;
    struct fw_spot gate;
    struct fw_spot water; /* a water point that stays where it is, or where the
                             tank is filled */
    struct fw_spot park;  /* where vehicle and spare posts stand */
    double gate_width_m;  /* 0: not told */
    double road_m; /* by the maps, from where the tank is filled to the gate; 0:
                      not known, or the farm tells it for all */
    bool soft;     /* a loaded vehicle sinks in there, by the farm's own word */
    struct fw_farm_side *sides; /* shape->corner_count of them */
    enum fw_holds hole_holds;   /* pond edges and the like */

    /* What layouts cut: the shape less ponds, exclusions and their setbacks,
     * and of that what lies beyond the front, in the shape's plane; the shape
     * itself, or NULL, where nothing is taken off. */
    struct fw_field *grazed;
    double excluded_m2;
    struct fw_farm_front front;
    struct fw_farm_border border;
    /* Usable feed on it on the first day, where zones or a raster tell it for
     * parts; NULL: even, by the sward. */
    struct fw_herbage *ground;
    struct fw_farm_part *parts; /* of the ground, as many as it has zones and
                                   its base; of a raster one for all cells */
    size_t part_count;
    double *stands_kg_ha;      /* by part of the ground: a raster's by cell */
    struct fw_raster *heights; /* above sea level, m; NULL: none are given */
};

/* What a part of a field's ground has, and how it grows. */
struct fw_farm_part {
    struct fw_usable usable; /* on the first day */
    double quality;          /* share of that which is eaten */
    struct fw_growth growth;
};

/* What a zone says of its grass; negative: nothing, and the field's holds. */
struct fw_farm_zone {
    double mass_kg_ha;
    double residual_kg_ha;
    double height_m;
    double leave_m;
    double use;       /* 0 to 1, of the same base as the field's */
    double quality;   /* 0 to 1, of the usable grass: 0 is never eaten */
    double condition; /* enum fw_condition */
};

/* Where the voltage of a power line is from. */
enum fw_kv_from {
    FW_KV_UNTOLD, /* unknown: nobody says it */
    FW_KV_MAP,
    FW_KV_HIGHER, /* the map's, which may be volts or kilovolts */
    FW_KV_ODD,    /* unknown: the map's is no standard voltage */
    FW_KV_FARM    /* maps[].kv */
};

/* One feature of a map layer with a role, in lon/lat. */
struct fw_farm_feature {
    enum fw_role role;
    enum fw_feature_kind kind;
    struct fw_lonlat *points; /* rings one after the other, not closed */
    size_t *ring_start;
    size_t ring_count;
    char *name; /* or NULL */

    /* Of a power line; its voltage is unknown where kv is negative. */
    double kv;
    enum fw_kv_from kv_from;
    char *kv_text; /* voltage "110,000"; NULL: no column speaks of one */

    /* Negative: not told. */
    size_t map, row;    /* which of the maps, from 0; which feature, from 1 */
    long long fid;      /* of the feature; negative: it has none */
    double setback_m;   /* how far from it the flock stays */
    double width_m;     /* of a line */
    double minutes;     /* hard going: for each moved line that crosses it */
    double posts;       /* and how many posts more */
    double sheep_cross; /* 1: sheep cross it; 0: they do not */
    struct fw_farm_zone zone;
};

/* In which order a move is done. */
enum fw_work_order {
    FW_WORK_LEAPFROG, /* the next paddock is fenced ahead overnight; when the
                         flock is in, the old line is wound and set beyond */
    FW_WORK_SET_FIRST /* the new front is set first, then they are let in */
};

/* The dates between which the ewes lamb, and what the moves do meanwhile. */
struct fw_lambing {
    bool given;   /* when not, the rest is 0 */
    int from, to; /* the first and the last day; to is not before from */
    enum fw_lambing_way {
        FW_LAMBING_DAILY, /* moved each day, in two visits while lambs are under
                             3 weeks old */
        FW_LAMBING_HOLD,  /* nobody moves the flock */
        FW_LAMBING_DRIFT  /* ewes with new lambs stay behind for a stay, and the
                             opening stays open */
    } way;
};

/* Cliffs and steep slopes among the bits of what a person has looked at. */
enum { FW_LOOKED_STEEP = 1 << FW_ROLE_COUNT };

/* The winter's grass; without parts nobody has told any. */
struct fw_farm_stockpile {
    struct fw_stockpile_winter winter;
    bool frost_told, loss_told, days_told;
    int from_day; /* from which it is grazed */
    int days;     /* for how long it is wanted */
    struct fw_stockpile_part *parts;
    size_t part_count;
};

/* What paddocks are kept back for. */
enum fw_keep {
    FW_KEEP_STORM, /* those with shelter */
    FW_KEEP_HEAT,  /* those with shade */
    FW_KEEP_COUNT
};

/* What a layout is chosen by. */
enum fw_prefer {
    FW_PREFER_WORK,  /* minutes a grazing day */
    FW_PREFER_FENCE, /* metres of line */
    FW_PREFER_KIT,   /* wire and posts to own */
    FW_PREFER_COST,  /* of that kit */
    FW_PREFER_WALK   /* to water */
};

struct fw_farm {
    const struct fw_world *world; /* whom its plan asks about the earth */
    char *path;                   /* of the farm file; NULL without one */
    char *name;
    char *fields_source;     /* the field file as written, first of several */
    struct fw_inputs inputs; /* every file that was read */
    struct fw_told told;     /* beside a farm file */
    char *earlier_path;      /* of a plan made before, or NULL */
    struct fw_plan *earlier;
    enum fw_units units;

    struct fw_farm_field *fields;
    size_t field_count, field_capacity;
    struct fw_field **wholes; /* fields that came in parts */
    size_t whole_count, whole_capacity;
    size_t turned_rings, repeated_points; /* of all fields, when read */
    struct fw_flock_class *classes;
    size_t class_count, class_capacity;
    struct fw_stay stay;
    bool stay_told; /* when not, a plan without back fence may take 2 or 3 days
                     */
    int start_day;  /* FW_NO_DAY when not told */
    bool until_given; /* the fields are grazed round after round until then */
    int until_day;
    enum fw_last last;
    char *layout; /* a pattern or a candidate's name; NULL: the best */
    enum fw_prefer prefer;
    bool limits_off;
    double least_width_m; /* of a paddock; 0: by the flock */
    double least_face_m;  /* without back fences: of the front, a head */
    double longest_shape; /* length over width of a paddock */
    double lane_width_m;  /* 0: the usual one */
    double apron_m;       /* about a water point; negative: none */
    bool all_stand;       /* block lines stand all the time */
    bool lambs_creep;     /* they may go under the moved fence */
    enum fw_work_order work_order;
    bool
        work_told; /* when not, a plan may take the other one for want of kit */
    struct fw_lambing lambing;
    struct fw_farm_stockpile stockpile;
    enum fw_season season;
    bool back_fence; /* when not told, by the season */
    bool back_fence_told;
    bool far_first; /* the far end is grazed first, where a lane leads there */
    enum fw_field_order field_order;
    double keep_days[FW_KEEP_COUNT]; /* kept back in each field; 0: none */
    bool direction_given;
    double direction_deg; /* compass bearing of the fence lines */

    struct fw_fence_spec moved;          /* the moved lines */
    struct fw_fence_perimeter perimeter; /* for materials of a bare field */
    struct fw_fence_rates rates;
    bool kit_given;
    struct fw_kit kit; /* what the farm owns; 0 when it is not given */
    double pace_m;     /* one pace */
    double tank_l;     /* of the hauling tank; 0: not told */
    struct fw_farm_hauling hauling;
    struct fw_weather_table weather;
    bool water_moves;   /* a trough goes with the flock */
    double trough_days; /* that it may stand in one place; 0: one stay */
    bool dry_soil;
    bool soil_told;
    enum fw_joule_rule joule_rule;
    bool rule_told;
    struct fw_farm_wiring wiring;
    double energizer_j;       /* 0: size it */
    struct fw_spot energizer; /* in the first field's plane */
    struct fw_prices prices;
    struct fw_owned owned;           /* what is taken off the list to buy */
    struct fw_fence_terms terms;     /* of a permanent fence, by the year */
    double sign_path_m, sign_road_m; /* between warning signs; 0: not told */

    struct fw_farm_feature *features;
    size_t feature_count, feature_capacity;
    unsigned mapped; /* 1 << role for each role that has a map */
    unsigned looked; /* the same for what a person has looked at instead, and
                        FW_LOOKED_STEEP */
    int looked_day;  /* FW_NO_DAY when not told */
    struct fw_farm_default *defaults;
    size_t default_count, default_capacity;
};

/* What its moved fence has to hold. */
enum fw_held fw_farm_held(const struct fw_farm *farm);

void fw_farm__field_release(struct fw_farm_field *field);

#endif
