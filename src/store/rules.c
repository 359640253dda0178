/* Findings by one rule say much the same. What they have in common, whole words
 * only, stands once for all of them. */
#include "base/alloc.h"
#include "base/fail.h"
#include "store/members.h"

#include <string.h>

size_t fw_io__rule_find(const struct fw_io__rule *rules, size_t count,
                        const char *rule)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(rules[i].rule, rule) == 0)
            return i;
    return FW_NONE;
}

static bool ends_word(const char *text)
{
    return *text == '\0' || *text == ' ';
}

/* Without the beginning of a remark in brackets: "ask them (here at". */
static size_t before_bracket(const char *text, size_t length)
{
    for (size_t i = length; i-- > 1;) {
        if (text[i] == ')')
            break;
        if (text[i] == '(' && text[i - 1] == ' ')
            return i - 1;
    }
    return length;
}

/* Cut `common` to what `text` begins with as well. */
static void cut(char *common, const char *text)
{
    size_t length = 0;
    while (common[length] && common[length] == text[length])
        length++;
    if (!common[length] && !text[length])
        return;
    if (!ends_word(common + length) || !ends_word(text + length))
        while (length > 0 && common[--length] != ' ')
            ;
    common[before_bracket(common, length)] = '\0';
}

static enum fw_status add(struct fw_io__rule *rules, size_t *count,
                          const struct fw_plan_finding *finding,
                          struct fw_error *err)
{
    const size_t known = fw_io__rule_find(rules, *count, finding->rule);
    if (known != FW_NONE && strcmp(rules[known].source, finding->source) != 0)
        return fw_fail(err, FW_EINPUT,
                       "%s: its rule \"%s\" has another source; expected one "
                       "for all findings by it",
                       finding->id, finding->rule);
    if (known != FW_NONE) {
        cut(rules[known].text, finding->text);
        return FW_OK;
    }
    struct fw_io__rule *rule = &rules[(*count)++];
    memcpy(rule->rule, finding->rule, sizeof rule->rule);
    memcpy(rule->text, finding->text, sizeof rule->text);
    memcpy(rule->source, finding->source, sizeof rule->source);
    return FW_OK;
}

enum fw_status fw_io__rules_make(const struct fw_plan *plan,
                                 struct fw_io__rule **out, size_t *count,
                                 struct fw_error *err)
{
    struct fw_io__rule *rules = fw_alloc(plan->finding_count, sizeof *rules);
    if (!rules)
        return fw_fail_memory(err);
    size_t made = 0;
    for (size_t i = 0; i < plan->finding_count; i++) {
        const enum fw_status status =
            add(rules, &made, &plan->findings[i], err);
        if (status) {
            fw_free(rules);
            return status;
        }
    }
    *out = rules;
    *count = made;
    return FW_OK;
}
