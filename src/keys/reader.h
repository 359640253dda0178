/* One reading of a farm, shared by the files of this folder: the farm file's
 * document, the place in it, the draft that fills up, and the map files' way
 * points. read.c runs through the parts in order. */
#ifndef FW_KEYS_READER_H
#define FW_KEYS_READER_H

#include "base/fail.h"
#include "farm/farm.h"
#include "figures/mark.h"
#include "io/io.h"
#include "keys/draft.h"
#include "keys/keys.h"
#include "water/roads.h"
#include <yaml.h>

struct fw_farm__waypoint {
    char *name;
    struct fw_lonlat lonlat;
};

/* Which of the draft's items the keys that come next belong to. */
struct fw_farm__cursor {
    struct fw_farm__class *sheep;
    struct fw_farm__forage *forage;
    struct fw_farm__perimeter *perimeter;
    struct fw_farm__edge *edge;
    struct fw_farm__each *each;
    struct fw_farm__map *map;
    struct fw_farm__part *part;
};

/* What a loaded tank is driven along, in a plane about the first field of the
 * maps; and where it is filled. */
struct fw_farm__road {
    struct fw_plane plane;
    struct fw_roads tracks;
    struct fw_point *sources;
    size_t source_count, source_capacity;
};

struct fw_farm__reader {
    const struct fw_farm_request *request;
    struct fw_notes *notes;
    struct fw_farm__draft draft;
    struct fw_farm *farm;

    yaml_document_t document;
    bool has_document;
    char path[256]; /* of the key at hand: "flock[1].weight" */
    size_t path_length;
    struct fw_farm__cursor cursor;

    struct fw_quantities *quantities; /* made when the first one is read */
    enum fw_units units;
    bool units_given;
    bool us_words; /* a quantity was written in pounds, acres, feet, inches */

    char **owned; /* texts cut out of settings */
    size_t owned_count, owned_capacity;
    struct fw_farm__waypoint *waypoints;
    size_t waypoint_count, waypoint_capacity;
    size_t *each_of; /* for each field: its own keys in draft.each, from 1 */
    struct fw_farm__road road;
    size_t bad_count;
    struct fw_error first_bad; /* of the features that were refused */
};

/* ---- read.c ---- */

/* NULL: there is no memory. The farm is the reader's until it is taken. */
struct fw_farm__reader *
fw_farm__reader_new(const struct fw_farm_request *request,
                    struct fw_notes *notes);
void fw_farm__reader_free(struct fw_farm__reader *reader);

/* ---- document.c: YAML within its caps ---- */
enum fw_status fw_farm__load(struct fw_farm__reader *reader, const char *bytes,
                             size_t count, struct fw_error *err);

/* ---- walk.c: from the document to the draft ---- */
enum fw_status fw_farm__walk(struct fw_farm__reader *reader,
                             struct fw_error *err);

/* ---- setting.c: from options to the draft ---- */
enum fw_status fw_farm__settings(struct fw_farm__reader *reader,
                                 struct fw_error *err);

/* Put "hill.yaml:14: gate: " or "--gate: " in front of the error. */
enum fw_status fw_farm__fail_at(const struct fw_farm__reader *reader,
                                const struct fw_farm__at *at, const char *key,
                                struct fw_error *err);
enum fw_status fw_farm__keep(struct fw_farm__reader *reader, const char *bytes,
                             size_t count, const char **out,
                             struct fw_error *err);
void fw_farm__draft_release(struct fw_farm__draft *draft);

/* Read a quantity by the reader's units. */
enum fw_status fw_farm__quantity(struct fw_farm__reader *reader,
                                 const char *text, enum fw_kind kind,
                                 double *out, struct fw_error *err);

/* One more rate of a month or a week. */
enum fw_status fw_farm__add_growth(struct fw_farm__reader *reader,
                                   const char *when, const char *rate,
                                   struct fw_farm__growth *growth,
                                   struct fw_error *err);

/* A number and nothing else, such as map columns and scales have. */
bool fw_farm__plain_number(const char *text, double *out);

/* ---- from the draft to the farm ---- */

/* build.c: everything but fields and places. */
enum fw_status fw_farm__build(struct fw_farm__reader *reader,
                              struct fw_error *err);
/* fields.c: the fields as the maps have them. */
enum fw_status fw_farm__fields(struct fw_farm__reader *reader,
                               struct fw_error *err);
/* conditions.c: fields of which a zone has another condition, in their parts;
 * borders.c: the parts in their order, each with its way in. */
enum fw_status fw_farm__conditions(struct fw_farm__reader *reader,
                                   struct fw_error *err);
enum fw_status fw_farm__borders(struct fw_farm__reader *reader,
                                struct fw_error *err);
/* arrange.c: their names made unique, and the order of grazing. */
enum fw_status fw_farm__arrange(struct fw_farm__reader *reader,
                                struct fw_error *err);
/* own.c: what belongs to one field: grass, places, sides. */
enum fw_status fw_farm__own(struct fw_farm__reader *reader,
                            struct fw_error *err);
/* tour.c: the order of grazing by the shortest round. */
enum fw_status fw_farm__tour(struct fw_farm__reader *reader,
                             struct fw_error *err);
/* season.c: whether the grass grows, and what follows from it. */
enum fw_status fw_farm__weather(struct fw_farm__reader *reader,
                                struct fw_error *err);
enum fw_status fw_farm__season(struct fw_farm__reader *reader,
                               struct fw_error *err);
/* stockpile.c: the winter's grass. */
enum fw_status fw_farm__stockpile(struct fw_farm__reader *reader,
                                  struct fw_error *err);
/* place.c */
enum fw_status fw_farm__spot(struct fw_farm__reader *reader,
                             const struct fw_field *field, const char *text,
                             struct fw_spot *out, struct fw_error *err);
/* earlier.c: the plan made before, and its fences. Is that the name of one, as
 * far as to the @? The place so far along it; is it one of that field, or of no
 * plan at all; the fence itself. */
enum fw_status fw_farm__earlier(struct fw_farm__reader *reader,
                                struct fw_error *err);
bool fw_farm__is_fence(const struct fw_farm__reader *reader, const char *text);
enum fw_status fw_farm__on_fence(struct fw_farm__reader *reader,
                                 const char *text, struct fw_lonlat *out,
                                 struct fw_error *err);
enum fw_status fw_farm__check_fence(const struct fw_farm__reader *reader,
                                    const struct fw_field *field,
                                    const char *text, struct fw_error *err);
enum fw_status fw_farm__find_fence(const struct fw_farm__reader *reader,
                                   const char *text, size_t *out,
                                   struct fw_error *err);
/* earlier_front.c: a fence of it as the front of a field; and the field of such
 * a front is the first. */
enum fw_status fw_farm__named_front(struct fw_farm__reader *reader,
                                    struct fw_farm_field *field,
                                    const char *text, struct fw_error *err);
enum fw_status fw_farm__front_first(struct fw_farm__reader *reader,
                                    struct fw_error *err);
/* corner:N and side:N mean something on one field only. */
bool fw_farm__spot_is_of_field(const char *text);
double fw_farm__distance_m(const struct fw_field *field, struct fw_point point);
/* power.c: the wiring, and the energizer's place among the fields. */
enum fw_status fw_farm__wiring(struct fw_farm__reader *reader,
                               struct fw_error *err);
enum fw_status fw_farm__energizer(struct fw_farm__reader *reader,
                                  struct fw_error *err);
/* mapped/features.c */
enum fw_status fw_farm__features(struct fw_farm__reader *reader,
                                 struct fw_error *err);
/* mapped/road.c: how far the tank is driven to each field, where nobody told
 * it, and the room for that. */
enum fw_status fw_farm__road(struct fw_farm__reader *reader,
                             struct fw_error *err);
void fw_farm__road_release(struct fw_farm__road *road);
/* looked.c: what a person has looked at, and when. */
enum fw_status fw_farm__looked(struct fw_farm__reader *reader,
                               struct fw_error *err);
/* mapped/columns.c: the columns of a map that its role has, for fw_map_request,
 * and what a feature says of itself in them, else its map, else nothing
 * (negative). */
/* "feature 12 (FID 11, Long Bottom)"; its place in the map, and its number
 * there, under which a GIS finds it. Returns room. */
#define FW_FARM__FEATURE FW_EFFORT(160)
const char *fw_farm__feature(size_t row, long long fid, const char *name,
                             char room[FW_FARM__FEATURE]);

enum { fw_farm__most_columns = FW_EFFORT(16) };
size_t fw_farm__columns(enum fw_role role,
                        const char *names[fw_farm__most_columns]);
enum fw_status fw_farm__told(struct fw_farm__reader *reader, size_t map,
                             const struct fw_feature *feature,
                             struct fw_farm_feature *out, struct fw_error *err);
/* exclude.c: what is not grazed, off the fields; they may come apart. */
enum fw_status fw_farm__exclude(struct fw_farm__reader *reader,
                                struct fw_error *err);
/* way_in.c: where the flock comes in: by the gate, or from ground that lies
 * behind a front and is grazed. */
enum fw_status fw_farm__way_in(struct fw_farm__reader *reader,
                               struct fw_error *err);
/* ground.c: heights, and feed by zones or a raster. */
enum fw_status fw_farm__ground(struct fw_farm__reader *reader,
                               struct fw_error *err);
/* own.c: the sward of a field, with `over` (NULL: nothing) told over it. */
void fw_farm__sward(const struct fw_farm__reader *reader, size_t field,
                    const struct fw_farm__forage *over, struct fw_sward *out);
/* growth.c: how that field's grass grows, by what was told of it; how it was
 * told. own.c: the same of a field, with `over` told over it. */
struct fw_farm_loss fw_farm__loss_range(const struct fw_farm__loss *told);
enum fw_status
fw_farm__make_growth(struct fw_farm__reader *reader, size_t field,
                     const struct fw_farm__forage *told, struct fw_growth *out,
                     char text[FW_GROWTH_TEXT], struct fw_error *err);
enum fw_status fw_farm__growth(struct fw_farm__reader *reader, size_t field,
                               const struct fw_farm__forage *over,
                               struct fw_growth *out, char text[FW_GROWTH_TEXT],
                               struct fw_error *err);
/* defaults.c: what is needed and missing; what was taken in its place. */
enum fw_status fw_farm__needs(struct fw_farm__reader *reader,
                              struct fw_error *err);
enum fw_status fw_farm__defaults(struct fw_farm__reader *reader,
                                 struct fw_error *err);

/* mapped/source.c */
/* What is shown of sources has no password from here on. */
enum fw_status fw_farm__hide(struct fw_farm__reader *reader,
                             struct fw_error *err);
/* The map file's path as the program opens it: from the request's folder, or
 * beside the farm file when the farm file names it. */
enum fw_status fw_farm__told_path(struct fw_farm__reader *reader,
                                  const char *path, const char **out,
                                  struct fw_error *err);
enum fw_status fw_farm__source(struct fw_farm__reader *reader,
                               const struct fw_farm__text *source,
                               const char **out, struct fw_error *err);

#endif
