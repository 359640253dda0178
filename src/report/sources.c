/* The register of figures, for people and for machines. */
#include "report/register.h"
#include "report/report.h"

#include "base/fail.h"
#include "keys/keys.h"
#include <foldwright/figures.h>

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

static bool has(const char *text, const char *word)
{
    const size_t length = strlen(word);
    for (; *text; text++) {
        size_t n = 0;
        while (n < length && tolower((unsigned char)text[n]) ==
                                 tolower((unsigned char)word[n]))
            n++;
        if (n == length)
            return true;
    }
    return false;
}

static bool has_each(const struct fw_figure *figure, const char *const *words,
                     size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!has(figure->name, words[i]) && !has(figure->subject, words[i]) &&
            !has(figure->what, words[i]) && !has(figure->source, words[i]) &&
            !has(fw_figures_mark(figure->mark), words[i]) &&
            !(figure->word && has(figure->word, words[i])))
            return false;
    return true;
}

static enum fw_status none(const char *const *words, size_t count,
                           struct fw_error *err)
{
    struct fw_text said = {0};
    for (size_t i = 0; i < count; i++)
        fw_text_addf(&said, i ? " and \"%.60s\"" : "\"%.60s\"", words[i]);
    enum fw_status status = fw_text_done(&said, err);
    if (!status)
        status = fw_fail(err, FW_EINPUT,
                         "no figure has %s in its name, what it is or where it "
                         "is from; try one word, such as post, soil or lambs, "
                         "or none for all of them",
                         said.bytes);
    fw_text_release(&said);
    return status;
}

static const struct fw_farm_key *key_of(const struct fw_figure *figure)
{
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(keys[i].path, figure->name) == 0)
            return &keys[i];
    return NULL;
}

/* ---- for people ---- */

static bool is_share(const struct fw_figure *figure)
{
    return strcmp(figure->unit, "share") == 0;
}

__attribute__((format(printf, 2, 3))) static void print(char text[FW_WORDS],
                                                        const char *format, ...)
{
    va_list args;
    va_start(args, format);
    fw_text_print(text, FW_WORDS, format, args);
    va_end(args);
}

/* As it is told where that is short, else four digits of what was worked out
 * from other units. */
static void add_value(struct fw_text *text, const struct fw_figure *figure,
                      double value)
{
    const double shown = is_share(figure) ? 100 * value : value;
    char exact[FW_WORDS];
    const char *end;
    print(exact, strcmp(figure->subject, "units") == 0 ? "%.12g" : "%.7g",
          shown);
    if (fw_text_number(exact, &end) == shown)
        fw_text_add(text, exact);
    else
        fw_text_addf(text, fabs(shown) < 1000 ? "%.4g" : "%.0f", shown);
}

static void add_unit(struct fw_text *text, const struct fw_figure *figure,
                     double value)
{
    if (is_share(figure))
        fw_text_add(text, " %");
    else if (value == 1 && strcmp(figure->unit, "days") == 0)
        fw_text_add(text, " day");
    else if (figure->unit[0])
        fw_text_addf(text, " %s", figure->unit);
}

static void add_curve(struct fw_text *text, const struct fw_figure *figure)
{
    for (int i = 0; i < figure->points; i++) {
        fw_text_add(text, i ? ", " : "");
        add_value(text, figure, figure->values[i]);
    }
    add_unit(text, figure, 0);
    for (int i = 0; figure->at_unit && i < figure->points; i++)
        fw_text_addf(text, i ? ", %.4g" : " at %.4g", figure->at[i]);
    if (figure->at_unit)
        fw_text_addf(text, " %s", figure->at_unit);
}

static void add_worth(struct fw_text *text, const struct fw_figure *figure)
{
    if (figure->word) {
        fw_text_add(text, figure->word);
    } else if (figure->points) {
        add_curve(text, figure);
    } else {
        add_value(text, figure, figure->value);
        add_unit(text, figure, figure->value);
    }
}

static void add_range(struct fw_text *text, const struct fw_figure *figure)
{
    add_value(text, figure, figure->least);
    fw_text_add(text, " to ");
    add_value(text, figure, figure->most);
    add_unit(text, figure, figure->most);
}

static bool has_range(const struct fw_figure *figure)
{
    return figure->most > figure->least;
}

/* "Published: who and where"; what has no source says so itself. */
static void add_source(struct fw_text *text, const struct fw_figure *figure)
{
    struct fw_text said = {0};
    if (figure->mark == FW_MARK_PRACTICE ||
        strstr(figure->source, fw_figures_mark(figure->mark)))
        fw_text_addf(&said, "%s.", figure->source);
    else
        fw_text_addf(&said, "%s: %s.", fw_figures_mark(figure->mark),
                     figure->source);
    /* An address stays as it is typed. */
    if (said.bytes && said.bytes[strcspn(said.bytes, " .")] != '.')
        said.bytes[0] = (char)toupper((unsigned char)said.bytes[0]);
    fw_text_add(text, "    ");
    fw_report__fold_text(text, 4, &said);
}

static void add_use(struct fw_text *text, const struct fw_figure *figure)
{
    const struct fw_farm_key *key = key_of(figure);
    struct fw_text said = {0};
    if (key) {
        fw_text_add(&said, "A farm file may tell it");
        if (key->option)
            fw_text_addf(&said, " (%s)", key->option);
        if (has_range(figure))
            fw_text_add(&said, ": ");
    } else if (has_range(figure)) {
        fw_text_add(&said, "In print ");
    }
    if (has_range(figure))
        add_range(&said, figure);
    fw_text_addf(&said, "%s in %s.",
                 key || has_range(figure) ? "; used" : "Used", figure->used);
    fw_text_add(text, "    ");
    fw_report__fold_text(text, 4, &said);
}

static void add_row(struct fw_text *text, const struct fw_figure *figure)
{
    struct fw_text head = {0};
    fw_text_addf(&head, "%s: ", figure->name);
    add_worth(&head, figure);
    fw_report__fold_text(text, 4, &head);
    fw_text_add(text, "    ");
    fw_text_addf(&head, "%c%s.", toupper((unsigned char)figure->what[0]),
                 figure->what + 1);
    fw_report__fold_text(text, 4, &head);
    add_source(text, figure);
    add_use(text, figure);
}

enum fw_status fw_report_sources(const char *const *words, size_t count,
                                 char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    struct fw_report__register all;
    size_t found = 0;
    const char *subject = "";
    enum fw_status status = fw_report__register(&all, err);
    for (size_t i = 0; !status && i < all.count; i++) {
        if (!has_each(&all.rows[i], words, count))
            continue;
        if (strcmp(subject, all.rows[i].subject) != 0)
            fw_text_addf(&text, "%sFIGURES: %s\n\n", found ? "\n" : "",
                         all.rows[i].subject);
        subject = all.rows[i].subject;
        add_row(&text, &all.rows[i]);
        found++;
    }
    fw_report__register_release(&all);
    if (!status && found == 0)
        return none(words, count, err);
    fw_text_addf(&text, "\n%zu %s.\n", found,
                 found == 1 ? "figure" : "figures");
    if (!status)
        return fw_report_give(&text, out, NULL, err);
    fw_text_release(&text);
    return status;
}

/* ---- for machines ---- */

static void add_numbers(struct fw_text *text, const char *key,
                        const double *numbers, int count)
{
    fw_text_addf(text, ", \"%s\": [", key);
    for (int i = 0; i < count; i++) {
        fw_text_add(text, i ? ", " : "");
        fw_text_add_number(text, numbers[i]);
    }
    fw_text_add(text, "]");
}

static void add_member(struct fw_text *text, const char *key, const char *value)
{
    fw_text_addf(text, ", \"%s\": ", key);
    fw_text_add_json(text, value);
}

static void add_json_worth(struct fw_text *text, const struct fw_figure *figure)
{
    if (figure->word) {
        add_member(text, "word", figure->word);
        return;
    }
    add_member(text, "unit", figure->unit);
    if (figure->points) {
        if (figure->at_unit) {
            add_numbers(text, "at", figure->at, figure->points);
            add_member(text, "at_unit", figure->at_unit);
        }
        add_numbers(text, "values", figure->values, figure->points);
        return;
    }
    fw_text_add(text, ", \"value\": ");
    fw_text_add_number(text, figure->value);
    if (has_range(figure)) {
        const double range[] = {figure->least, figure->most};
        add_numbers(text, "range", range, 2);
    }
}

static void add_json_row(struct fw_text *text, const struct fw_figure *figure)
{
    const struct fw_farm_key *key = key_of(figure);
    fw_text_add(text, "  {\"name\": ");
    fw_text_add_json(text, figure->name);
    add_member(text, "subject", figure->subject);
    add_member(text, "what", figure->what);
    add_json_worth(text, figure);
    add_member(text, "mark", fw_figures_mark(figure->mark));
    add_member(text, "source", figure->source);
    add_member(text, "used", figure->used);
    fw_text_addf(text, ", \"farm_key\": %s", key ? "true" : "false");
    if (key && key->option)
        add_member(text, "option", key->option);
    fw_text_add(text, "}");
}

enum fw_status fw_report_sources_json(const char *const *words, size_t count,
                                      char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    struct fw_report__register all;
    bool found = false;
    enum fw_status status = fw_report__register(&all, err);
    for (size_t i = 0; !status && i < all.count; i++) {
        if (!has_each(&all.rows[i], words, count))
            continue;
        fw_text_add(&text, found ? ",\n" : "[\n");
        found = true;
        add_json_row(&text, &all.rows[i]);
    }
    fw_report__register_release(&all);
    if (!status && !found)
        return none(words, count, err);
    fw_text_add(&text, "\n]\n");
    if (!status)
        return fw_report_give(&text, out, NULL, err);
    fw_text_release(&text);
    return status;
}
