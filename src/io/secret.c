/* Drivers spell a password in many ways: "password=x", "PWD={x}",
 * "user:x@host", "OCI:user/x@db". What might be one is taken for one: too
 * little shown can be looked up where it was written, too much cannot be taken
 * back. */
#include "io/secret.h"

#include "base/alloc.h"
#include "base/text.h"
#include "io/io.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>
#include <strings.h>

static bool is_word(char c)
{
    return isalnum((unsigned char)c) || c == '_' || c == '-';
}

static void add(struct fw_io__secrets *secrets, const char *source, size_t from,
                size_t to)
{
    if (from >= to)
        return;
    if (secrets->count == FW_IO__SECRETS) {
        secrets->spans[FW_IO__SECRETS - 1].to = strlen(source);
        return;
    }
    secrets->spans[secrets->count].from = from;
    secrets->spans[secrets->count++].to = to;
}

/* ---- key = value ---- */

static bool names_secret(const char *word, size_t length)
{
    static const char *const parts[] = {"pass",  "pwd",    "secret",
                                        "token", "apikey", "_key",
                                        "-key",  "auth",   "signature"};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        const size_t part = strlen(parts[i]);
        for (size_t k = 0; k + part <= length; k++)
            if (!strncasecmp(word + k, parts[i], part))
                return true;
    }
    return length == 3 && !strncasecmp(word, "key", 3);
}

/* Does another "key =" begin there? */
static bool begins_pair(const char *at)
{
    size_t letters = 0;
    while (is_word(at[letters]))
        letters++;
    const size_t gap = strspn(at + letters, " \t");
    return letters > 0 && at[letters + gap] == '=';
}

/* An unquoted value ends where the next key begins: a space, a comma or an &
 * may be part of it. */
static const char *end_of_value(const char *at)
{
    const char *quotes = strchr("\"'{", *at);
    if (*at && quotes) {
        const char close = *at == '{' ? '}' : *at;
        for (at++; *at && *at != close; at++)
            if (*at == '\\' && at[1])
                at++;
        return at;
    }
    for (; *at; at++)
        if (strchr(" \t,;&|", *at) && begins_pair(at + strspn(at, " \t,;&|")))
            return at;
    return at;
}

static void find_pairs(const char *source, struct fw_io__secrets *secrets)
{
    for (const char *at = source; *at;) {
        if (!is_word(*at)) {
            at++;
            continue;
        }
        const char *word = at;
        while (is_word(*at))
            at++;
        const size_t length = (size_t)(at - word);
        const char *value = at + strspn(at, " \t");
        if (*value != '=' || !names_secret(word, length))
            continue;
        value += 1 + strspn(value + 1, " \t");
        at = end_of_value(value);
        value += *value && strchr("\"'{", *value) && value < at;
        add(secrets, source, (size_t)(value - source), (size_t)(at - source));
    }
}

/* ---- user and password before an @ ---- */

/* "://user:x@host"; in "OCI:user/x@db" a slash stands between the two. */
static void find_login(const char *source, struct fw_io__secrets *secrets)
{
    const char *scheme = strstr(source, "://");
    const char *colon = strchr(source, ':');
    const char *start = scheme ? scheme + 3 : colon ? colon + 1 : NULL;
    if (!start || colon - source < 2 || *start == '/')
        return;
    const size_t length = strcspn(start, scheme ? " \t\"'" : " \t\"'=");
    const char *last = NULL;
    for (const char *at = start; at < start + length; at++)
        if (*at == '@')
            last = at;
    const char *between =
        last ? memchr(start, scheme ? ':' : '/', (size_t)(last - start)) : NULL;
    if (between)
        add(secrets, source, (size_t)(between + 1 - source),
            (size_t)(last - source));
}

struct fw_io__secrets fw_io__secrets_in(const char *source)
{
    struct fw_io__secrets secrets = {.count = 0};
    find_login(source, &secrets);
    find_pairs(source, &secrets);
    return secrets;
}

static bool is_hidden(const struct fw_io__secrets *secrets, size_t at)
{
    for (size_t i = 0; i < secrets->count; i++)
        if (at >= secrets->spans[i].from && at < secrets->spans[i].to)
            return true;
    return false;
}

char *fw_source_shown(const char *source)
{
    const struct fw_io__secrets secrets = fw_io__secrets_in(source);
    struct fw_text text = {0};
    fw_text_add(&text, "");
    for (size_t i = 0; source[i]; i++) {
        const bool hidden = is_hidden(&secrets, i);
        if (!hidden)
            fw_text_add_bytes(&text, source + i, 1);
        else if (i == 0 || !is_hidden(&secrets, i - 1))
            fw_text_add(&text, "***");
    }
    if (text.failed) {
        fw_text_release(&text);
        return NULL;
    }
    return text.bytes;
}

/* ---- in what others say ---- */

/* A short word is taken out only where it stands alone, or every letter "a"
 * would go; at the end of a text that was cut off its beginning will do. */
static bool stands_at(const char *word, size_t length, const char *text,
                      const char *at)
{
    const size_t short_one = 3, rest = strnlen(at, length);
    if (rest < length)
        return rest >= short_one && !strncmp(at, word, rest);
    const bool inside = (at > text && is_word(at[-1])) || is_word(at[length]);
    return !strncmp(at, word, length) && (length >= short_one || !inside);
}

static void blot(const char *word, size_t length, char *text)
{
    for (char *at = text; *at; at++) {
        if (!stands_at(word, length, text, at))
            continue;
        const size_t gone = strnlen(at, length), stars = gone < 3 ? gone : 3;
        memset(at, '*', stars);
        memmove(at + stars, at + gone, strlen(at + gone) + 1);
    }
}

void fw_io__hide_secrets(const char *source, char *text)
{
    const struct fw_io__secrets secrets = fw_io__secrets_in(source);
    for (size_t i = 0; i < secrets.count; i++) {
        const char *at = source + secrets.spans[i].from;
        const char *end = source + secrets.spans[i].to;
        while (at < end) {
            const char *word = at;
            while (at < end && !isspace((unsigned char)*at))
                at++;
            if (at > word)
                blot(word, (size_t)(at - word), text);
            at += at < end;
        }
    }
}
