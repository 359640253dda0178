/* What really happened to the grass, and the next paddock because of it.
 *
 * What a paddock held is counted from its end: what is left, and what the flock
 * has eaten there. In mass, not in height, and against two figures: what was
 * meant to stay, to which a paddock is eaten on a perfect day, and the floor,
 * below which sheep get no more. A look at the floor, or hollow flanks, say
 * that they had too little, and not by how much.
 *
 * Two answers come of it. The rule knows one look, and stands on the card. The
 * eye knows all of them: how much stands in each zone beside what the plan
 * says, and how sure that is. docs/guide/record.md has both in words. */
#ifndef FW_DAYS_DAYS_H
#define FW_DAYS_DAYS_H

#include <foldwright/error.h>
#include <stdbool.h>

/* ---- one look ---- */

/* A paddock by the plan, on its day; dry matter to the hectare. */
struct fw_days_offer {
    double stands_kg_ha;
    double residual_kg_ha; /* that the share they use is taken above */
    double taken_kg_ha;    /* that the flock eats there */
    double floor_kg_ha;    /* they get no lower */
};

struct fw_days_look {
    double left_kg_ha;
    bool limit;   /* they could get no more: it held so much at most */
    double size;  /* of the paddock as it was set; the plan's is 1 */
    double eaten; /* by the flock that was there, for as long as it was; what
                     the plan says is 1 */
};

/* What is meant to stay when they leave. */
double fw_days_left_kg_ha(const struct fw_days_offer *offer);

/* What stood there by that look; with a limit at most. */
double fw_days_stood_kg_ha(const struct fw_days_offer *offer,
                           const struct fw_days_look *look);

/* How large a paddock must be, of the plan's 1, where so much stands; INFINITY
 * where nothing stands above what must stay. */
double fw_days_size(const struct fw_days_offer *offer, double stands_kg_ha);

/* ---- the rule ---- */

/* What forbids a smaller paddock. */
struct fw_days_when {
    bool wet_once; /* one look in the rain, with no other before it */
    bool legume;   /* the next paddock is rich in legumes */
    bool frost;    /* or frosted: hungry sheep bloat on it */
};

enum fw_days_why {
    FW_DAYS_AS_MEANT,
    FW_DAYS_MORE,
    FW_DAYS_LESS,
    FW_DAYS_NOT_WET, /* less was asked, and is not done for that reason */
    FW_DAYS_NOT_LEGUME,
    FW_DAYS_NOT_FROST
};

/* Did they leave what was meant, as far as a look can tell? */
bool fw_days_is_right(const struct fw_days_offer *offer, double left_kg_ha);

/* By what share the next paddock is made larger, or smaller when negative,
 * where `wanted` is asked. Hungry sheep leave, and a fence that is short is
 * gone over the same day; so more is given at once, and less by halves. limit:
 * more is asked, and nobody knows how much. why may be NULL. */
double fw_days_step(double wanted, bool limit, const struct fw_days_when *when,
                    enum fw_days_why *why);

/* The whole rule of one look: the step from the size that the paddock had. */
double fw_days_rule(const struct fw_days_offer *offer,
                    const struct fw_days_look *look,
                    const struct fw_days_when *when, enum fw_days_why *why);

/* ---- the eye ---- */

/* How much stands in each zone, as a share of what the plan says, and how sure
 * that is. The share of a zone is the eye's own bias, the same in all of them,
 * and what is the zone's; both are Gaussian, and each look makes them surer. */
struct fw_days_eye;

struct fw_days_guess {
    double share;     /* 1.1: a tenth more than the plan says */
    double spread;    /* of it, one standard deviation */
    double low, high; /* nine of ten paddocks of the zone lie between */
};

enum fw_status fw_days_eye_new(size_t zone_count, struct fw_days_eye **out,
                               struct fw_error *err);
void fw_days_eye_free(struct fw_days_eye *eye);

/* Nights go by, and what was seen grows old. */
void fw_days_eye_wait(struct fw_days_eye *eye, int days);

/* stands_kg_ha of the offer must be over 0. */
void fw_days_eye_look(struct fw_days_eye *eye, size_t zone,
                      const struct fw_days_offer *offer,
                      const struct fw_days_look *look);

struct fw_days_guess fw_days_eye_zone(const struct fw_days_eye *eye,
                                      size_t zone);

/* What is asked of the next paddock of the zone, as a share of `size`, at which
 * the last one was set: more, so far as the guess goes; less, so far as it
 * would be enough if the guess were off by its spread. */
double fw_days_wanted(const struct fw_days_offer *offer,
                      struct fw_days_guess guess, double size);

/* Of all that this eye has said: 0.9 says that there is a tenth less. */
struct fw_days_guess fw_days_eye_bias(const struct fw_days_eye *eye);

/* By how much its looks at what is left are off, as a share. */
double fw_days_eye_noise(const struct fw_days_eye *eye);

#endif
