/* What stands in each zone beside what the plan says, from all looks so far.
 *
 * A zone's share is b + e: b the eye's own bias, e the zone's. All of them have
 * one Gaussian, kept as means and covariances; a look is a sum of two of them
 * with noise, so that it is taken in exactly (Kalman 1960). A look at the floor
 * says only that the share is at most so much: the Gaussian is then multiplied
 * by the normal distribution function, and the mean and covariance of the
 * product are kept (probit; the moments are in closed form). */
#include "days/days.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "figures/days.h"

#include "figures/mark.h"

#include <math.h>

struct fw_days_eye {
    size_t count;  /* the bias first, then the zones */
    double *mean;  /* count */
    double *cov;   /* count * count */
    double *with;  /* room: covariance of each with the share looked at */
    double noise;  /* variance of looks, of what is thought at first 1 */
    double looked; /* what `noise` is learnt from */
};

static double *cov_at(const struct fw_days_eye *eye, size_t i, size_t k)
{
    return &eye->cov[i * eye->count + k];
}

enum fw_status fw_days_eye_new(size_t zone_count, struct fw_days_eye **out,
                               struct fw_error *err)
{
    const size_t count = zone_count + 1;
    struct fw_days_eye *eye = fw_alloc(1, sizeof *eye);
    if (!eye)
        return fw_fail_memory(err);
    *eye = (struct fw_days_eye){
        .count = count,
        .mean = fw_alloc(count, sizeof *eye->mean),
        .cov = fw_alloc(count, count * sizeof *eye->cov),
        .with = fw_alloc(count, sizeof *eye->with),
        .noise = 1,
    };
    if (!eye->mean || !eye->cov || !eye->with) {
        fw_days_eye_free(eye);
        return fw_fail_memory(err);
    }
    const double all = FW_DAYS_EYE * FW_DAYS_EYE;
    eye->mean[0] = 1;
    for (size_t i = 0; i < count; i++)
        *cov_at(eye, i, i) = all * (i ? 1 - FW_DAYS_COMMON : FW_DAYS_COMMON);
    *out = eye;
    return FW_OK;
}

void fw_days_eye_free(struct fw_days_eye *eye)
{
    if (!eye)
        return;
    fw_free(eye->mean);
    fw_free(eye->cov);
    fw_free(eye->with);
    fw_free(eye);
}

void fw_days_eye_wait(struct fw_days_eye *eye, int days)
{
    for (size_t i = 1; i < eye->count; i++)
        *cov_at(eye, i, i) += days * FW_DAYS_DRIFT * FW_DAYS_DRIFT;
}

static double variance_of(const struct fw_days_eye *eye, size_t of)
{
    return *cov_at(eye, 0, 0) + 2 * *cov_at(eye, 0, of) + *cov_at(eye, of, of);
}

/* Over what is expected by chance a look is noisier than was thought. The part
 * of its variance that is not the noise's teaches nothing; one odd look is not
 * believed whole. */
static void learn_noise(struct fw_days_eye *eye, double off2, double part)
{
    const double most_odd = FW_BOUND(9);
    const double most = FW_BOUND(4);
    eye->looked += part;
    eye->noise *=
        1 + part * (fmin(off2, most_odd) - 1) / (FW_DAYS_KNOWN + eye->looked);
    eye->noise = fmin(fmax(eye->noise, 1 / most), most);
}

/* Mean moves by `by` times the covariance with what was looked at, and the
 * covariance shrinks by `less`. */
static void take_in(struct fw_days_eye *eye, double by, double less)
{
    for (size_t i = 0; i < eye->count; i++) {
        eye->mean[i] += by * eye->with[i];
        for (size_t k = 0; k < eye->count; k++)
            *cov_at(eye, i, k) -= less * eye->with[i] * eye->with[k];
    }
}

/* The normal density over its distribution function; far out, where both are
 * nothing, its asymptote. */
static double hazard(double z)
{
    const double farthest = FW_BOUND(30);
    if (z < -farthest)
        return -z;
    return exp(-z * z / 2) / sqrt(2 * FW_PI) / (erfc(-z / sqrt(2)) / 2);
}

/* Of a look, as a share of what stands by the plan. What is left is seen with
 * an error in proportion to what ought to be left: one in proportion to what
 * is seen would believe the low ones more. */
static double noise_of(const struct fw_days_eye *eye, double share,
                       const struct fw_days_offer *offer,
                       const struct fw_days_look *look)
{
    const double left_kg_ha = fmax(
        offer->floor_kg_ha, share * offer->stands_kg_ha -
                                offer->taken_kg_ha * look->eaten / look->size);
    const double left = FW_DAYS_LOOK * left_kg_ha / offer->stands_kg_ha;
    return eye->noise * (left * left + FW_DAYS_SPOT * FW_DAYS_SPOT);
}

void fw_days_eye_look(struct fw_days_eye *eye, size_t zone,
                      const struct fw_days_offer *offer,
                      const struct fw_days_look *look)
{
    const size_t of = zone + 1;
    const double share = eye->mean[0] + eye->mean[of];
    const double noise = noise_of(eye, share, offer, look);
    const double all = variance_of(eye, of) + noise;
    const double off =
        fw_days_stood_kg_ha(offer, look) / offer->stands_kg_ha - share;
    for (size_t i = 0; i < eye->count; i++)
        eye->with[i] = *cov_at(eye, 0, i) + *cov_at(eye, of, i);
    if (look->limit || look->left_kg_ha <= offer->floor_kg_ha) {
        const double z = off / sqrt(all), h = hazard(z);
        take_in(eye, -h / sqrt(all), h * (z + h) / all);
        return;
    }
    take_in(eye, off / all, 1 / all);
    learn_noise(eye, off * off / all, noise / all);
}

static struct fw_days_guess guess(double share, double variance, double spot)
{
    const double nine_of_ten = FW_DAYS_BAND;
    const double reach = nine_of_ten * sqrt(variance + spot);
    return (struct fw_days_guess){
        .share = share,
        .spread = sqrt(variance),
        .low = fmax(0, share - reach),
        .high = share + reach,
    };
}

struct fw_days_guess fw_days_eye_zone(const struct fw_days_eye *eye,
                                      size_t zone)
{
    return guess(eye->mean[0] + eye->mean[zone + 1], variance_of(eye, zone + 1),
                 eye->noise * FW_DAYS_SPOT * FW_DAYS_SPOT);
}

double fw_days_wanted(const struct fw_days_offer *offer,
                      struct fw_days_guess guess, double size)
{
    const double kg_ha = offer->stands_kg_ha;
    const double enough = fw_days_size(offer, guess.share * kg_ha);
    const double sure =
        fw_days_size(offer, (guess.share - guess.spread) * kg_ha);
    return size < enough ? enough / size - 1 : fmin(0, sure / size - 1);
}

struct fw_days_guess fw_days_eye_bias(const struct fw_days_eye *eye)
{
    return guess(eye->mean[0], *cov_at(eye, 0, 0), 0);
}

double fw_days_eye_noise(const struct fw_days_eye *eye)
{
    return FW_DAYS_LOOK * sqrt(eye->noise);
}
