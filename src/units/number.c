/* The number that a quantity begins with. */
#include "units/quantity.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static const char *skip_digits(const char *text)
{
    while (is_digit(*text))
        text++;
    return text;
}

/* The end of sign, digits, point, digits, exponent; NULL when there are no
 * digits. An "e" without digits belongs to the unit. */
static const char *number_end(const char *text)
{
    text += *text == '+' || *text == '-';
    const char *end = skip_digits(text);
    size_t digits = (size_t)(end - text);
    if (*end == '.') {
        const char *decimals = end + 1;
        end = skip_digits(decimals);
        digits += (size_t)(end - decimals);
    }
    if (digits == 0)
        return NULL;
    if (*end == 'e' || *end == 'E') {
        const char *exponent = end + 1;
        exponent += *exponent == '+' || *exponent == '-';
        if (is_digit(*exponent))
            end = skip_digits(exponent);
    }
    return end;
}

/* A second number right behind the first: "1 500", "1,500", "2 1/2", "4-6". */
static bool goes_on(const char *rest)
{
    static const char *const between[] = {
        ",", ".", "'", "/", "-", "\xE2\x80\x93", "\xE2\x80\x99"};
    if (is_digit(*rest))
        return true;
    for (size_t i = 0; i < sizeof between / sizeof *between; i++) {
        const size_t bytes = strlen(between[i]);
        if (strncmp(rest, between[i], bytes) == 0 &&
            is_digit(*fw_quantity__skip_spaces(rest + bytes)))
            return true;
    }
    return false;
}

enum fw_fault fw_quantity__number(const char *text, struct fw_number *out)
{
    text = fw_quantity__skip_spaces(text);
    const char *end = number_end(text);
    if (!end)
        return FW_FAULT_NO_NUMBER;
    const size_t length = (size_t)(end - text);
    if (length >= sizeof out->spelling)
        return FW_FAULT_SIZE;
    memcpy(out->spelling, text, length);
    out->spelling[length] = '\0';
    out->rest = fw_quantity__skip_spaces(end);
    if (goes_on(out->rest))
        return FW_FAULT_SHAPE;

    /* -0 is 0: nothing later should print a sign. */
    out->value = fw_text_number(out->spelling, NULL) + 0.0;
    const size_t before_exponent = strcspn(out->spelling, "eE");
    const bool is_zero = strcspn(out->spelling, "123456789") >= before_exponent;
    if (!isfinite(out->value) || (out->value == 0) != is_zero)
        return FW_FAULT_SIZE;
    return FW_FAULT_NONE;
}

double fw_unit__rounded(double number)
{
    char digits[64];
    fw_text_format(digits, sizeof digits, "%.15g", number);
    return fw_text_number(digits, NULL);
}
