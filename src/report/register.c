#include "report/register.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/text.h"
#include "flock/flock.h"
#include "safety/safety.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

static enum fw_status add(struct fw_report__register *all,
                          const struct fw_figure *row, struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &all->rows, &all->capacity, all->count + 1, sizeof *all->rows, err);
    if (!status)
        all->rows[all->count++] = *row;
    return status;
}

/* A text that the rows point at. */
__attribute__((format(printf, 2, 4))) static const char *
keep(struct fw_report__register *all, const char *format, struct fw_error *err,
     ...)
{
    struct fw_text text = {0};
    va_list args;
    va_start(args, err);
    fw_text_addv(&text, format, args);
    va_end(args);
    if (fw_text_done(&text, err) ||
        fw_array_reserve(&all->texts, &all->text_capacity, all->text_count + 1,
                         sizeof *all->texts, err)) {
        fw_text_release(&text);
        return NULL;
    }
    all->texts[all->text_count++] = text.bytes;
    return text.bytes;
}

/* ---- what they eat ---- */

static enum fw_mark mark_of_basis(const char *basis)
{
    return strcmp(basis, "read") == 0     ? FW_MARK_PUBLISHED
           : strcmp(basis, "memory") == 0 ? FW_MARK_MEMORY
                                          : FW_MARK_PRACTICE;
}

static enum fw_status add_intake(struct fw_report__register *all,
                                 struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (int state = 0; !status && state < FW_STATE_COUNT; state++) {
        const struct fw_intake_row *intake = fw_flock_row((enum fw_state)state);
        struct fw_figure row = {.subject = "flock",
                                .what = intake->label,
                                .unit = "kg of dry matter a day",
                                .points = intake->points,
                                .at_unit = "kg of live weight",
                                .mark = mark_of_basis(intake->basis),
                                .source = intake->source,
                                .used = "src/flock/intake.c"};
        for (int i = 0; i < intake->points; i++) {
            row.at[i] = intake->weight_kg[i];
            row.values[i] = intake->intake_kg[i];
        }
        row.name = keep(all, "intake.%s", err, fw_flock_state_words[state]);
        status = row.name ? add(all, &row, err) : FW_ENOMEM;
    }
    return status;
}

/* ---- rules of safety ---- */

/* A rule's source says which of its figures have none: "...; angle common
 * practice, no source". */
static enum fw_mark mark_of(const char *source, const char *which)
{
    char own[32];
    snprintf(own, sizeof own, "%s common", which);
    const bool all = strncmp(source, "common", strlen("common")) == 0;
    return all || strstr(source, own)      ? FW_MARK_PRACTICE
           : strstr(source, "from memory") ? FW_MARK_MEMORY
                                           : FW_MARK_PUBLISHED;
}

static enum fw_status add_rule(struct fw_report__register *all,
                               const struct fw_safety_rule *rule,
                               struct fw_error *err)
{
    const double any_deg = 90; /* an angle that all have is no figure */
    const struct {
        double value;
        const char *tail, *unit, *what, *which;
    } figures[] = {
        {rule->wanted_m, ".distance", "m", "distance wanted", "distance"},
        {rule->most_deg < any_deg ? rule->most_deg : 0, ".angle", "degrees",
         "angle below which it holds", "angle"},
        {rule->least_m, ".length", "m", "length from which it holds",
         "lengths"},
        {rule->sign_interval_m, ".signs", "m", "from sign to sign", "signs"},
    };
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < sizeof figures / sizeof *figures; i++) {
        struct fw_figure row = {.subject = "safety",
                                .unit = figures[i].unit,
                                .value = figures[i].value,
                                .least = figures[i].value,
                                .most = figures[i].value,
                                .mark = mark_of(rule->source, figures[i].which),
                                .source = rule->source,
                                .used = "src/safety/rules.c"};
        if (!(figures[i].value > 0))
            continue;
        row.name = keep(all, "safety.%s%s", err, rule->id, figures[i].tail);
        row.what = rule->role == FW_ROLE_COUNT
                       ? figures[i].what
                       : keep(all, "%s, %s", err, figures[i].what,
                              fw_safety_role_word(rule->role));
        status = row.name && row.what ? add(all, &row, err) : FW_ENOMEM;
    }
    return status;
}

static enum fw_status add_rules(struct fw_report__register *all,
                                struct fw_error *err)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < count; i++)
        status = add_rule(all, &rules[i], err);
    return status;
}

/* The tables come after the last figure of their subject. */
enum fw_status fw_report__register(struct fw_report__register *out,
                                   struct fw_error *err)
{
    size_t count;
    const struct fw_figure *figures = fw_figures(&count);
    enum fw_status status = FW_OK;
    *out = (struct fw_report__register){0};
    for (size_t i = 0; !status && i < count; i++) {
        const char *subject = figures[i].subject;
        status = add(out, &figures[i], err);
        if (i + 1 < count && strcmp(figures[i + 1].subject, subject) == 0)
            continue;
        if (!status && strcmp(subject, "flock") == 0)
            status = add_intake(out, err);
        if (!status && strcmp(subject, "safety") == 0)
            status = add_rules(out, err);
    }
    return status;
}

void fw_report__register_release(struct fw_report__register *all)
{
    for (size_t i = 0; i < all->text_count; i++)
        fw_free(all->texts[i]);
    fw_free(all->texts);
    fw_free(all->rows);
    *all = (struct fw_report__register){0};
}
