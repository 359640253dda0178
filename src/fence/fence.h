/* Temporary and permanent fence: posts, wire, reels, the kit to own, the list
 * to buy. Lines come in as points of the local plane. */
#ifndef FW_FENCE_FENCE_H
#define FW_FENCE_FENCE_H

#include "geo/geo.h"
#include <foldwright/error.h>
#include <foldwright/figures.h>
#include <foldwright/kit.h>

struct fw_fence_spec {
    int strands;       /* 1 to 8 */
    double post_gap_m; /* widest gap between posts, > 0 */
    double bend_deg;   /* a turn sharper than this has a post, and a curve of
                          smaller turns each time it has come round so far */
    double slack;      /* extra wire as a share: 0.04 is 4 % */
    double reel_m;     /* wire that one reel holds, > 0 */
    bool out_and_back; /* each two strands are one wire, which turns at the far
                          end; else every strand is a wire of its own */
    double height_top_m, height_bottom_m; /* of the live wires */
    bool lay_flat; /* grass taller than the lowest wire is laid flat first */
};

/* Two strands at 35 and 55 cm, posts at 8 m: common practice and a published
 * interior fence; see fence.c for each source. */
struct fw_fence_spec fw_fence_moved_default(void);

/* The smallest that a moved fence has to hold. */
enum fw_held { FW_HELD_GROWN, FW_HELD_WEANED, FW_HELD_AT_FOOT };

/* Where its wires hang when nobody tells. */
struct fw_wires {
    double bottom_m, top_m;
    double most_bottom_m; /* they slip under a lowest wire over that */
};
struct fw_wires fw_fence_wires(enum fw_held held, int strands);

/* A permanent electric perimeter: five strands, posts at 15 m. */
struct fw_fence_perimeter {
    struct fw_fence_spec spec;
    double tolerance_m;  /* how far it may leave the map's line */
    double brace_deg;    /* a turn sharper than this is braced both ways */
    int gates;           /* each of gate_m, 0 or more */
    double gate_m;       /* > 0 */
    double sign_m;       /* between two warning signs, > 0 */
    enum fw_units units; /* that the words of its list are in */
};
struct fw_fence_perimeter fw_fence_perimeter_default(void);

enum fw_post_why {
    FW_POST_END, /* stands where the line ends; a post of the perimeter may do,
                    and where the line is short and slack a bare step-in */
    FW_POST_BEND,
    FW_POST_GAP,
    FW_POST_TIE,     /* holds a line's end: another line's post, one of the
                        perimeter, or a driven anchor */
    FW_POST_SIGN,    /* carries a warning sign; stands where a post is, or its
                        own */
    FW_POST_DIP,     /* in a hollow, so that sheep do not go under */
    FW_POST_CREST,   /* on a brow, so that the wire does not touch */
    FW_POST_CROSSING /* of a ditch, a bank, a row of trees */
};

struct fw_fence_post {
    double at_m; /* along the line from its first point */
    struct fw_point point;
    enum fw_post_why why;
};

struct fw_fence_count {
    double line_m; /* length of the line */
    double wire_m; /* all strands with slack */
    int posts;     /* to set, ends counted */
    int reels;     /* every wire on reels of its own */
};

/* Reels of a line whose strands are so long, slack included: nobody cuts a wire
 * so that two share one. A count that no farm needs comes out as over a
 * million, whatever the length. */
int fw_fence_reels(double strand_m, const struct fw_fence_spec *spec);

/* Count what the open or closed line needs. FW_EINPUT: a spec value is out of
 * range; FW_EFAULT: the line has no length. On failure *out is unchanged. */
enum fw_status fw_fence_count(const struct fw_point *line, size_t count,
                              bool closed, const struct fw_fence_spec *spec,
                              struct fw_fence_count *out, struct fw_error *err);

/* Where the posts stand; *posts is an array of *post_count to be given back
 * with fw_fence_posts_free. Equal gaps between bends, each at most post_gap_m.
 */
enum fw_status fw_fence_posts(const struct fw_point *line, size_t count,
                              bool closed, const struct fw_fence_spec *spec,
                              struct fw_fence_post **posts, size_t *post_count,
                              struct fw_error *err);
void fw_fence_posts_free(struct fw_fence_post *posts);

/* Line, with that slope (rise over run), on the ground. */
double fw_fence_ground_m(double plan_m, double slope);

/* ---- the list to buy (list.c, wares.c) ---- */

/* What is sold, priced and owned under one name: prices.line-post. */
enum fw_ware {
    FW_WARE_POST, /* of a moved fence */
    FW_WARE_REEL,
    FW_WARE_WIRE,
    FW_WARE_CORNER_POST, /* of a permanent one */
    FW_WARE_LINE_POST,
    FW_WARE_BRACE_POST,
    FW_WARE_BRACE_RAIL,
    FW_WARE_STRAINER,
    FW_WARE_PERIMETER_WIRE,
    FW_WARE_GATE,
    FW_WARE_INSULATOR,
    FW_WARE_STAPLE,
    FW_WARE_CLAMP,
    FW_WARE_SIGN,
    FW_WARE_ANCHOR,
    FW_WARE_HANDLE,
    FW_WARE_SLEEVE, /* over a trough under a line */
    FW_WARE_ENERGIZER,
    FW_WARE_EARTH_ROD,
    FW_WARE_LEAD,
    FW_WARE_SWITCH,
    FW_WARE_COUNT
};
extern const char *const fw_ware_words[FW_WARE_COUNT];

/* One thing to buy or to own. */
struct fw_material {
    char item[96]; /* "step-in post", "polywire" */
    enum fw_ware ware;
    char unit[16];   /* "each" or "m" */
    double quantity; /* that is needed */
    double spare;    /* beyond that, for what breaks and is lost */
    double owned;    /* of both together, that the farm has */
    double pack;     /* sold in rolls or packs of so many; 0: singly */
    double price;    /* a unit, in the farm's money; negative: not told */
    char note[160];  /* how it was counted */
};

/* Prices as the farm gives them; negative: not told. */
struct fw_prices {
    double post, reel, wire_m, corner_post, line_post, perimeter_wire_m,
        energizer, earth_rod, insulator, sign, anchor, handle, sleeve;
    double brace_post, brace_rail, strainer; /* of a permanent fence */
    double gate, staple, clamp, cut_out;
    double joule; /* what an energizer costs more for each of its joules */
    double lead_m, copper_wire_m; /* insulated lead; polywire with copper in it
                                   */
    char currency[8];
};

/* What the farm has of each, in its unit. */
struct fw_owned {
    double of[FW_WARE_COUNT];
};

/* How joints and cable are counted, along the fence and where it is fed. */
extern const char fw_fence_clamps[], fw_fence_cable[];

/* A row with its unit and price; item and note are the caller's. */
struct fw_material fw_fence_material(enum fw_ware ware, double quantity,
                                     const struct fw_prices *prices);

/* When all rows are there: spares, packs, and what the farm has, which goes to
 * the rows of a ware in their order. owned NULL: nothing. */
void fw_fence_settle(struct fw_material *rows, size_t count,
                     const struct fw_owned *owned);

/* What is bought of it: needed and spare, less what the farm has when only the
 * rest is wanted; whole packs, whole pieces. How many packs that is: 0 when it
 * is sold singly. */
double fw_fence_bought(const struct fw_material *row, bool only_rest);
double fw_fence_packs(const struct fw_material *row, bool only_rest);

/* What owning it costs a year: the first cost spread over its life, interest on
 * half of it, since that is what is tied up on average, and upkeep. */
struct fw_fence_terms {
    double life_years; /* > 0 */
    double interest;   /* of what is tied up, a year: 0.08 */
    double upkeep;     /* of the first cost, a year: 0.05 */
};
struct fw_fence_terms fw_fence_terms_default(void);
struct fw_fence_yearly {
    double worn, interest, upkeep, together;
};
struct fw_fence_yearly fw_fence_yearly(double first_cost,
                                       const struct fw_fence_terms *terms);

/* Rows for the kit, or for a new perimeter round a bare field: all along the
 * fence and its gates, but not what feeds it. The rows go to `rows`, `most` of
 * them at most; *count says how many. They are to be settled. */
enum fw_status fw_fence_kit_list(const struct fw_kit *kit,
                                 const struct fw_fence_spec *spec,
                                 const struct fw_prices *prices,
                                 struct fw_material *rows, size_t most,
                                 size_t *count, struct fw_error *err);
enum fw_status fw_fence_perimeter_list(const struct fw_point *ring,
                                       size_t count,
                                       const struct fw_fence_perimeter *fence,
                                       const struct fw_prices *prices,
                                       struct fw_material *rows, size_t most,
                                       size_t *row_count, struct fw_error *err);

/* Minutes to lay, set, take up and carry one moved line (rates are common
 * practice, no source, to be set from the shepherd's own watch). */
struct fw_fence_rates {
    double walk_m_min;   /* 75 */
    double set_post_s;   /* 8 */
    double pull_post_s;  /* 5 */
    double wind_m_min;   /* 60: geared reel */
    double end_s;        /* 45: tie or clip one end */
    int posts_an_armful; /* 20 */
};
struct fw_fence_rates fw_fence_rates_default(void);

/* From one end and back to it: wire, posts, ends, the walk back, posts beyond
 * an armful fetched from that end. Not the way to the line. NaN when a rate is
 * out of range. */
double fw_fence_set_min(const struct fw_fence_count *line, int strands,
                        const struct fw_fence_rates *rates);
double fw_fence_take_down_min(const struct fw_fence_count *line, int strands,
                              const struct fw_fence_rates *rates);

/* How often a person walks along the line meanwhile: out with the wire and
 * back, winding and back for the next strand, and for posts beyond an armful.
 * NaN when a rate is out of range. */
double fw_fence_set_passes(const struct fw_fence_count *line, int strands,
                           const struct fw_fence_rates *rates);
double fw_fence_take_down_passes(const struct fw_fence_count *line, int strands,
                                 const struct fw_fence_rates *rates);

/* To lay grass flat along the line before it is set, there and back. */
enum { FW_FENCE_LAY_PASSES = 2 };
double fw_fence_lay_min(double line_m, const struct fw_fence_rates *rates);

#endif
