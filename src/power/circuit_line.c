/* Inside one section.
 *
 * With y from -1 at end a to 1 at end b, where y = tanh(gamma s) / tanh(u / 2),
 * s the distance from the middle, u = gamma L, and c = cosh(gamma s) /
 * cosh(u / 2), everything along a leaky line is c or its square times a
 * polynomial in y:
 *     V      = c (Va (1 - y) + Vb (1 + y)) / 2
 *     Rth    = c^2 ((1 - y)^2 Zaa + 2 (1 - y^2) Zab + (1 + y)^2 Zbb) / 4
 *              + the line's own, c^2 R sinh(u) / (4 u) (1 - y^2)
 *     1 / c^2 = cosh(u / 2)^2 - sinh(u / 2)^2 y^2
 * so that the touched volts stand still where a cubic in y is 0, whatever
 * u; without leakage y is the distance itself. Up to three such places: in a
 * hundred thousand random rings some hundreds dip twice. */
#include "figures/mark.h"
#include "power/circuit.h"

#include <math.h>

static double sinh_over(double u)
{
    return u > 0 ? sinh(u) / u : 1;
}

static double tanh_over(double u)
{
    return u > 0 ? tanh(u) / u : 1;
}

struct fw_circuit__line
fw_circuit__line(const struct fw_circuit_section *section)
{
    const double leak_s = section->length_m * section->siemens_m;
    const double wire_ohm = section->length_m > 0
                                ? section->length_m * section->ohm_m
                                : section->ohm;
    struct fw_circuit__line line = {.series_ohm =
                                        fmax(wire_ohm, FW_CIRCUIT_LEAST_OHM)};
    line.angle = sqrt(line.series_ohm * leak_s);
    line.siemens = 1 / (line.series_ohm * sinh_over(line.angle));
    line.end_siemens = leak_s / 2 * tanh_over(line.angle / 2);
    return line;
}

struct fw_circuit_volts fw_circuit__volts(double open_v, double thevenin_ohm,
                                          struct fw_circuit__touch touch)
{
    return (struct fw_circuit_volts){
        .open_v = open_v,
        .thevenin_ohm = thevenin_ohm,
        .touched_v = open_v * touch.body_ohm /
                     (touch.body_ohm + touch.hooves_ohm + thevenin_ohm),
    };
}

/* sinh(part) / sinh(whole), 0 <= part <= whole, where either may overflow. */
static double sinh_share(double part, double whole)
{
    return exp(part - whole) * (expm1(-2 * part) / expm1(-2 * whole));
}

/* What the line alone shows between its shorted ends. */
static double own_ohm(const struct fw_circuit__line *line, double share)
{
    const double u = line->angle;
    if (!(u > 0))
        return line->series_ohm * share * (1 - share);
    return line->series_ohm / (2 * u) *
           (expm1(-2 * u * share) * expm1(-2 * u * (1 - share)) /
            -expm1(-2 * u));
}

void fw_circuit__weights(const struct fw_circuit__line *line, double share,
                         double *of_a, double *of_b)
{
    const double u = line->angle;
    *of_a = u > 0 ? sinh_share(u * (1 - share), u) : 1 - share;
    *of_b = u > 0 ? sinh_share(u * share, u) : share;
}

struct fw_circuit_volts fw_circuit__inside(const struct fw_circuit__line *line,
                                           const struct fw_circuit__ends *ends,
                                           double share,
                                           struct fw_circuit__touch touch)
{
    if (!(share > 0))
        return fw_circuit__volts(ends->a_v, ends->aa_ohm, touch);
    if (!(share < 1))
        return fw_circuit__volts(ends->b_v, ends->bb_ohm, touch);
    double a, b;
    fw_circuit__weights(line, share, &a, &b);
    return fw_circuit__volts(a * ends->a_v + b * ends->b_v,
                             a * a * ends->aa_ohm + 2 * a * b * ends->ab_ohm +
                                 b * b * ends->bb_ohm + own_ohm(line, share),
                             touch);
}

/* ---- where the touched volts stand still ---- */

/* The search for the least: what is looked at, and the best so far. */
struct search {
    const struct fw_circuit__line *line;
    const struct fw_circuit__ends *ends;
    struct fw_circuit__touch touch;
    double rounding; /* a slope of less is none */
    double share;
    struct fw_circuit_volts least;
};

static double share_of(const struct fw_circuit__line *line, double y)
{
    const double u = line->angle;
    const double middle = u > 0 ? atanh(tanh(u / 2) * y) / u : y / 2;
    return fmin(fmax(0.5 + middle, 0), 1);
}

/* An end wins over a place inside that is lower by rounding alone. */
static void look_at(struct search *search, double share)
{
    const double rounding = FW_TOLERANCE(1e-12);
    const struct fw_circuit_volts here =
        fw_circuit__inside(search->line, search->ends, share, search->touch);
    if (here.touched_v < search->least.touched_v * (1 - rounding)) {
        search->share = share;
        search->least = here;
    }
}

/* The cubic with the sign of the slope of the touched volts, by its four
 * control values over -1 to 1. */
static void slope_cubic(struct search *search, double control[4])
{
    const double u = search->line->angle;
    const struct fw_circuit__ends *ends = search->ends;
    const double t = tanh(u / 2), m = t * t;
    const double fall = 1 / cosh(u / 2), faint = fall * fall;
    const double body = search->touch.body_ohm + search->touch.hooves_ohm;
    /* V is v0 + v1 y, body and Rth are q0 + q1 y + q2 y^2, but for c. */
    const double v0 = (ends->a_v + ends->b_v) / 2;
    const double v1 = (ends->b_v - ends->a_v) / 2;
    const double own =
        search->line->series_ohm / FW_FORMULA(4) * tanh_over(u / 2);
    const double both = (ends->aa_ohm + ends->bb_ohm) / FW_FORMULA(4) * faint;
    const double between = ends->ab_ohm / 2 * faint;
    const double q0 = both + between + own + body;
    const double q1 = (ends->bb_ohm - ends->aa_ohm) / 2 * faint;
    const double q2 = both - between - own - body * m;

    search->rounding = FW_TOLERANCE(1e-14) * (fabs(v0) + fabs(v1)) *
                       (both + between + own + body);
    const double k0 = v1 * q0 - v0 * q1;
    const double k1 = -v0 * (m * q0 + 2 * q2);
    const double k2 = -v1 * (q2 + 2 * m * q0);
    const double k3 = m * (v0 * q2 - v1 * q1);
    control[0] = k0 - k1 + k2 - k3;
    control[1] = k0 - (k1 + k2) / FW_FORMULA(3) + k3;
    control[2] = k0 + (k1 - k2) / FW_FORMULA(3) - k3;
    control[3] = k0 + k1 + k2 + k3;
}

/* Halve at the middle, de Casteljau. */
static void halve(const double c[4], double left[4], double right[4])
{
    const double ab = (c[0] + c[1]) / 2, bc = (c[1] + c[2]) / 2,
                 cd = (c[2] + c[3]) / 2;
    const double abc = (ab + bc) / 2, bcd = (bc + cd) / 2;
    const double middle = (abc + bcd) / 2;
    const double l[4] = {c[0], ab, abc, middle}, r[4] = {middle, bcd, cd, c[3]};
    for (int i = 0; i < FW_PARTS(4); i++) {
        left[i] = l[i];
        right[i] = r[i];
    }
}

/* Changes of sign from one control value to the next; the curve has no more
 * roots than that, and one where there is one. */
static int sign_changes(const double control[4], double rounding)
{
    int changes = 0, before = 0;
    for (int i = 0; i < FW_PARTS(4); i++) {
        const int now = (control[i] > rounding) - (control[i] < -rounding);
        changes += now != 0 && before != 0 && now != before;
        before = now != 0 ? now : before;
    }
    return changes;
}

static double value_at(const double control[4], double share)
{
    const double rest = 1 - share;
    const double inner = FW_FORMULA(3); /* Bernstein's weights: 1, 3, 3, 1 */
    return rest * rest * (rest * control[0] + inner * share * control[1]) +
           share * share *
               (inner * rest * control[2] + share * control[FW_PARTS(3)]);
}

/* The one root, by straight lines from end to end; where one end stays for a
 * second time its value is taken for half (the Illinois way), and where that
 * does not close in the middle is taken. */
static double root_share(const double control[4], double rounding)
{
    enum { most_steps = FW_EFFORT(200), middle_each = FW_EFFORT(8) };
    double from = 0, to = 1;
    double from_value = control[0], to_value = control[FW_PARTS(3)];
    for (int i = 0, kept = 0; i < most_steps; i++) {
        double at = from + (to - from) * from_value / (from_value - to_value);
        if (i % middle_each == middle_each - 1 || !(at > from && at < to))
            at = from + (to - from) / 2;
        const double value = value_at(control, at);
        if (!(at > from && at < to) || fabs(value) <= rounding)
            return at;
        const bool left = (value > 0) == (from_value > 0);
        if (left) {
            from = at;
            from_value = value;
            to_value /= kept > 0 ? 2 : 1;
        } else {
            to = at;
            to_value = value;
            from_value /= kept < 0 ? 2 : 1;
        }
        kept = left ? 1 : -1;
    }
    return from + (to - from) / 2;
}

/* No change of sign in the control values, no root; one, one root. With more
 * they are halved until rounding hides the change in both halves: there the
 * slope is 0. False: no root here. */
static bool look_where_still(struct search *search, const double control[4],
                             double from, double to)
{
    const int changes = sign_changes(control, search->rounding);
    if (changes == 0)
        return false;
    double middle = from + (to - from) / 2;
    bool found = false;
    if (changes == 1 && fabs(control[0]) > search->rounding &&
        fabs(control[FW_PARTS(3)]) > search->rounding) {
        middle = from + (to - from) * root_share(control, search->rounding);
    } else if (middle > from && middle < to) {
        double left[4], right[4];
        halve(control, left, right);
        found = look_where_still(search, left, from, middle);
        found = look_where_still(search, right, middle, to) || found;
    }
    if (!found)
        look_at(search, share_of(search->line, middle));
    return true;
}

/* The lower end; a, when they are alike. */
static struct search begin(const struct fw_circuit__line *line,
                           const struct fw_circuit__ends *ends,
                           struct fw_circuit__touch touch)
{
    struct search search = {
        .line = line,
        .ends = ends,
        .touch = touch,
        .least = fw_circuit__volts(ends->a_v, ends->aa_ohm, touch),
    };
    look_at(&search, 1);
    return search;
}

/* Open volts are least where y = -v1 / (m v0), or at an end. */
static void least_open(const struct search *found,
                       struct fw_circuit_section_answer *out, double length_m)
{
    const struct fw_circuit__ends *ends = found->ends;
    const double t = tanh(found->line->angle / 2), m = t * t;
    const double y = (ends->a_v - ends->b_v) / (m * (ends->a_v + ends->b_v));
    double share = ends->b_v < ends->a_v ? 1 : 0;
    if (length_m > 0 && fabs(y) < 1)
        share = share_of(found->line, y);
    out->least_open_m = share * length_m;
    out->least_open =
        fw_circuit__inside(found->line, ends, share, found->touch);
}

void fw_circuit__leasts(const struct fw_circuit__line *line,
                        const struct fw_circuit__ends *ends, double length_m,
                        struct fw_circuit__touch touch,
                        struct fw_circuit_section_answer *out)
{
    struct search search = begin(line, ends, touch);
    if (length_m > 0) {
        double control[4];
        slope_cubic(&search, control);
        look_where_still(&search, control, -1, 1);
    }
    out->least_touched_m = search.share * length_m;
    out->least_touched = search.least;
    least_open(&search, out, length_m);
}
