/* What the keys of a farm take: each side of each range as its words have it,
 * each length, each way that an option finds its place, and what is said of a
 * file that is none. */
#include "farm_help.h"

#include "keys/schema.h"

#define FIELDS "\nfields: {source: field.geojson}\n"

/* ---- reading with options ---- */

static struct fw_farm *with_options(const char *text,
                                    const struct fw_farm_setting *settings,
                                    size_t count, struct fw_error *err)
{
    struct fw_farm *farm = NULL;
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .settings = settings,
                                            .setting_count = count,
                                            .fields_only = true};
    *err = (struct fw_error){.text = ""};
    (void)fw_farm_read(&request, &farm, NULL, NULL, err);
    return farm;
}

/* The message of one option, "" when it is taken. */
static const char *said_of(const char *key, const char *value)
{
    static struct fw_error err;
    const struct fw_farm_setting setting = {key, value, NULL};
    fw_farm_free(with_options(FIELDS, &setting, 1, &err));
    return err.text;
}

static void says(const char *key, const char *value, const char *piece)
{
    const char *said = said_of(key, value);
    if (!strstr(said, piece) || (!*piece && *said))
        fail_msg("\"%s\"; expected \"%s\" of %s=%s", said, piece, key, value);
}

/* ---- ranges ---- */

/* One end of "20 cm to 150 cm", moved by a share of it, or by 1 when whole. */
static void try_end(const struct fw_farm_key *key, const char *end,
                    const char *unit, double way, bool whole)
{
    char value[80], range[FW_FARM_KEY_WORDS], *rest;
    const double at = strtod(end, &rest);
    const double step = whole ? 1 : 0.003 * fabs(at);
    if (way < 0 && at <= 0)
        return;
    snprintf(value, sizeof value, "%.12g%s", at, unit);
    if (strstr(said_of(key->path, value), "out of range"))
        fail_msg("%s does not take %s", key->path, value);
    snprintf(value, sizeof value, "%.12g%s", at + way * step, unit);
    says(key->path, value, "out of range; expected ");
    says(key->path, value, fw_farm_key_range(key, range));
}

/* As its words have it, whatever the table of numbers beside them has. */
static void each_range_ends_where_it_says(void **state)
{
    (void)state;
    size_t count, tried = 0;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++) {
        const struct fw_farm__reading *reading = fw_farm__reading(i);
        char words_of_it[FW_FARM_KEY_WORDS];
        const char *range = fw_farm_key_range(&keys[i], words_of_it);
        const char *to = strstr(range, " to ");
        if (!to || (reading->set != fw_farm__set_quantity &&
                    reading->set != fw_farm__set_money))
            continue;
        const bool words = strncmp(range, "a ", 2) == 0;
        const char *least = words ? strchr(range, ',') + 2 : range;
        const char *unit = to + 4 + strspn(to + 4, "0123456789.");
        const char *own = least + strspn(least, "0123456789.");
        char first_unit[40];
        snprintf(first_unit, sizeof first_unit, "%.*s",
                 own < to ? (int)(to - own) : (int)strlen(unit),
                 own < to ? own : unit);
        const bool whole = !*unit;
        if (reading->set != fw_farm__set_money)
            try_end(&keys[i], least, first_unit, -1, whole);
        try_end(&keys[i], to + 4, unit, 1, whole);
        tried++;
    }
    assert_true(tried > 50);
}

static void what_has_a_range_of_its_own_ends_there(void **state)
{
    (void)state;
    static const struct {
        const char *key, *value, *piece; /* "": it is taken */
    } rows[] = {
        {"flock[].intake", "10 %", ""},
        {"flock[].intake", "10.1 %", "out of range"},
        {"flock[].intake", "0.1", ""},
        {"flock[].intake", "0.11", "out of range"},
        {"flock[].intake", "4 percent", ""},
        {"flock[].intake", "15 kg/day", ""},
        {"flock[].intake", "15.1 kg/day", "out of range"},
        {"flock[].intake", "0 kg/day", "out of range"},
        {"flock[].intake", "0", "out of range"},
        {"forage.density", "1 kg/ha/cm", ""},
        {"forage.density", "0.99 kg/ha/cm", "out of range; expected 1 to 2000"},
        {"forage.density", "2000 kg/ha/cm", ""},
        {"forage.density", "2001 kg/ha/cm", "out of range"},
        {"forage.density", "thicc", "did you mean \"thick\"?"},
        {"forage.density", "goodd", "did you mean \"good\"?"},
        {"forage-map.scale", "1e3", ""},
        {"forage-map.scale", "-2.5", ""},
        {"forage-map.scale", "inf", "is not a plain number"},
        {"forage-map.scale", "nan", "is not a plain number"},
        {"forage-map.scale", "0x10", "is not a plain number"},
        {"forage-map.scale", "1e999", "is not a plain number"},
        {"forage-map.scale", "5 x", "is not a plain number"},
        {"forage-map.scale", "ten", "is not a plain number; expected such as"},
        {"prices.post", "0", ""},
        {"prices.post", "7.", ""},
        {"prices.post", "", "is not a price"},
        {"prices.post", "+2", "is not a price"},
        {"prices.post", "1.5e2", "is not a price"},
        {"back-fence", "TRUE", ""},
        {"back-fence", "False", ""},
        {"back-fence", "yesterday", "is no answer"},
        {"back-fence", "ye", "is no answer"},
        {"back-fence", "", "is no answer"},
        {"stay", "60 days", ""},
        {"stay", "61 days", "is no stay"},
        {"stay", "24 h", ""},
        {"stay", "36 h", "is no stay"},
        {"stay", "mon-sun: 60 days", ""},
        {"stay", "mon-sun: 61 days", "is no stay"},
        {"stay", "mon: 1 day, tuesd: 2 days", ""},
        {"stay", "tu: 1 day", "\"tu\" is not a day of the week"},
        {"stay", "sundays: 1 day", "\"sundays\" is not a day"},
        {"stay", "mon-: 1 day", "\"\" is not a day"},
        {"stay", "mon: 1 day, 2 days", "\"2 days\" is no part of a week"},
        {"stay", "sat-mon: 1 day, sun: 2 days", "\"sun\" names a day that"},
        {"stay", "sat-mon: 1 day, tue-fri: 2 days", ""},
        {"away", "2026-05-01 to 2026-06-29", ""},
        {"away", "2026-05-01 to 2026-06-30", "is 61 days; expected at most 60"},
        {"away", "2026-05-01 to 2026-05-01", ""},
        {"away", "2026-05-02 to 2026-05-01", "ends before it starts"},
        {"away", "2026-05-01 - 2026-05-03", ""},
        {"away", "2026-05-01,", "is not a date"},
        {"away", "2026-05-01 to May", "\"May\" is not a date"},
        {"conductor", "0 ohm/m", "expected a resistance over 0"},
        {"conductor", "0.001 ohm/m", ""},
        {"conductor", " 0.5 ohm/m", ""},
        {"leakage", "10 ohm km", ""},
        {"leakage", "9.9 ohm km", "is 9.9 ohm km; expected 10 or more"},
        {"leakage", " 50 ohm km", ""},
        {"looked", "road ,  telecom ", ""},
        {"looked", "exactly-thirty-one-letters-here", "is not a role"},
        {"looked", "exactly-thirty-two-letters-now-x", "is no role of a map "},
        {"fields.copy", "", "is empty; expected a column's name"},
        {"fields.only", "", "is empty; expected a field's name"},
        {"farm", "", "is empty; expected any text, such as Example Farm"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        says(rows[i].key, rows[i].value, rows[i].piece);
}

static void each_day_of_the_week_is_itself(void **state)
{
    (void)state;
    static const char *const days[] = {"Monday", "tues", "WED",   "thursday",
                                       "frid",   "Sat",  "sunday"};
    for (int first = 0; first < 7; first++)
        for (int last = 0; last < 7; last++) {
            char text[80];
            struct fw_error err;
            snprintf(text, sizeof text, "%s - %s: 3 days", days[first],
                     days[last]);
            const struct fw_farm_setting setting = {"stay", text, NULL};
            struct fw_farm *farm = with_options(FIELDS, &setting, 1, &err);
            assert_non_null(farm);
            for (int day = 0; day < 7; day++) {
                const bool in = first <= last ? day >= first && day <= last
                                              : day >= first || day <= last;
                assert_near(farm->stay.days[day], in ? 3 : 0, 0);
            }
            fw_farm_free(farm);
        }
}

/* A text of so many letters x. */
static const char *letters(size_t count)
{
    static char text[5000];
    assert_true(count < sizeof text);
    memset(text, 'x', count);
    text[count] = '\0';
    return text;
}

static void texts_have_a_longest(void **state)
{
    (void)state;
    says("farm", letters(1000), "");
    says("farm", letters(1001),
         "xx...\" is too long; expected at most 1000 bytes");
    says("prices.currency", letters(7), "");
    says("prices.currency", letters(8), "at most 7 bytes");
    struct fw_farm_setting settings[33];
    struct fw_error err;
    char names[33][8];
    for (size_t i = 0; i < 33; i++) {
        snprintf(names[i], sizeof names[i], "c%zu", i);
        settings[i] =
            (struct fw_farm_setting){"fields.copy", names[i], "--copy"};
    }
    fw_farm_free(with_options(FIELDS, settings, 32, &err));
    assert_null(strstr(err.text, "names over"));
    fw_farm_free(with_options(FIELDS, settings, 33, &err));
    assert_says(&err, "--copy: names over 32 columns");
}

/* ---- pounds and inches ---- */

static void words_of_us_units_are_whole_words(void **state)
{
    (void)state;
    static const struct {
        const char *key, *value;
        enum fw_units units;
    } rows[] = {
        {"flock[].weight", "130 lb", FW_US},
        {"flock[].weight", "130 lbs", FW_US},
        {"flock[].weight", "130 pounds", FW_US},
        {"forage.height", "9 in", FW_US},
        {"forage.height", "9 inches", FW_US},
        {"fence.post-gap", "25 ft", FW_US},
        {"fence.post-gap", "25 feet", FW_US},
        {"fence.post-gap", "8 yd", FW_US},
        {"fence.reel", "0.25 mi", FW_US},
        {"fence.reel", "0.25 mile", FW_US},
        {"hauling.tank", "150 gal", FW_US},
        {"hauling.tank", "150 gallons", FW_US},
        {"forage.mass", "2100 lb/acre", FW_US},
        {"forage.mass", "2600 kg/ha", FW_METRIC},
        {"energizer.charge", "600 min", FW_METRIC}, /* in and mi are in it */
        {"fence.post-gap", "8 m", FW_METRIC},
        {"fence.post-gap", "8 metres", FW_METRIC},
        {"forage.height", "220 millimetres", FW_METRIC},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_error err;
        const struct fw_farm_setting setting = {rows[i].key, rows[i].value,
                                                NULL};
        struct fw_farm *farm = with_options(FIELDS, &setting, 1, &err);
        if (!farm && strstr(err.text, "out of range"))
            continue; /* it is read, and that is what is asked */
        if (!farm)
            fail_msg("%s=%s: %s", rows[i].key, rows[i].value, err.text);
        if (farm->units != rows[i].units)
            fail_msg("%s=%s: units %d", rows[i].key, rows[i].value,
                     (int)farm->units);
        fw_farm_free(farm);
    }
}

/* ---- where an option goes ---- */

static void a_key_is_parts_and_places_in_lists(void **state)
{
    (void)state;
    char key[300];
    says("", "9", "\"\" is no key; expected such as flock[0].head");
    says("flock[0", "9", "is no key");
    says(".head", "9", "is no key");
    snprintf(key, sizeof key, "%.*s.head", 63, letters(63));
    says(key, "9", "no such key");
    snprintf(key, sizeof key, "%.*s.head", 64, letters(64));
    says(key, "9", "is no key; expected such as");
    snprintf(key, sizeof key, "flock[%.*s].head", 63, letters(63));
    says(key, "9", "there is no flock[xxx");
    snprintf(key, sizeof key, "flock[%.*s].head", 64, letters(64));
    says(key, "9", "is no key; expected such as");
    says("flock[+1].head", "9", "there is no flock[+1]; there are 0");
    says("flock[1x].head", "9", "there is no flock[1x]; there are 0");
    says("flock[0000000].head", "9", "there is no flock[0000000]");
    says("flock[000000].head", "9", "");
    says("flock[1].head", "9", "there is no flock[1]; there are 0");
    says("flock[+].head", "9", "");
    says("fields", "9", "\"fields\" has keys below it; name one");
    says("flock", "9", "has keys below it; name one");
    says("flock[0]", "9", "has keys below it; name one");
    says("farm.head", "9", "");
}

static void an_option_finds_the_item_of_the_file(void **state)
{
    (void)state;
    static const char file[] = "flock: [{head: 10}, {head: 20}]" FIELDS;
    static const struct {
        const char *key;
        int head[3];
    } rows[] = {
        {"flock[].head", {99, 20, -1}},  {"flock[0].head", {99, 20, -1}},
        {"flock[1].head", {10, 99, -1}}, {"flock[2].head", {10, 20, 99}},
        {"flock[+].head", {10, 20, 99}},
    };
    struct fw_error err;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct fw_farm_setting setting = {rows[i].key, "99", NULL};
        struct fw_farm *farm = with_options(file, &setting, 1, &err);
        assert_non_null(farm);
        assert_int_equal(farm->class_count, rows[i].head[2] < 0 ? 2 : 3);
        for (size_t k = 0; k < farm->class_count; k++)
            assert_int_equal(farm->classes[k].head, rows[i].head[k]);
        fw_farm_free(farm);
    }
    const struct fw_farm_setting beyond = {"flock[3].head", "99", "--head"};
    assert_null(with_options(file, &beyond, 1, &err));
    assert_says(&err, "--head: there is no flock[3]; there are 2, counted "
                      "from 0");
}

static void lists_of_the_file_go_and_those_of_options_grow(void **state)
{
    (void)state;
    static const char file[] =
        "stay: {mon-wed: 2 days}\naway: [2026-05-01, 2026-05-02, 2026-05-03]\n"
        "looked: [road, pond]\n"
        "fields: {source: field.geojson, only: [Nowhere], copy: [a, b]}\n";
    static const struct fw_farm_setting settings[] = {
        {"stay", "thu: 1 day", "--stay"},
        {"stay", "fri-sun: 3 days", "--stay"},
        {"away", "2026-06-01", "--away"},
        {"away", "2026-06-03 to 2026-06-04", "--away"},
        {"looked", "telecom", "--looked"},
        {"looked", "steep", "--looked"},
        {"fields.only", "Long Bottom", "--only"},
        {"fields.copy", "name", "--copy"},
    };
    static const double days[] = {0, 0, 0, 0, 3, 3, 3};
    struct fw_error err;
    struct fw_farm *farm = with_options(file, settings, 8, &err);
    if (!farm)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < 7; i++)
        assert_near(farm->stay.days[i], days[i], 0);
    assert_int_equal(farm->stay.away_count, 2);
    assert_int_equal(farm->looked, 1U << FW_ROLE_TELECOM | FW_LOOKED_STEEP);
    fw_farm_free(farm);
    static const struct fw_farm_setting both[] = {
        {"fields.only", "Long Bottom", "--only"},
        {"fields.only", "Elsewhere", "--only"}};
    assert_null(with_options(FIELDS, both, 2, &err));
    assert_says(&err, "there is no field \"Elsewhere\"");
}

static void a_map_as_an_option_is_role_layer_and_source(void **state)
{
    (void)state;
    put_text(
        "road.geojson",
        COLLECTION(FEATURE("Lane", "{\"type\":\"LineString\",\"coordinates"
                                   "\":[[8.999,51.001],[9.001,51.001]]}")));
    says("maps", "road=road.geojson", "");
    says("maps", "road:road=road.geojson", "");
    says("maps", "road:lanes=road.geojson", "has no layer \"lanes\"");
    says("maps", "road:=road.geojson", "is empty; expected");
    says("maps", "=road.geojson", "is no map; expected ROLE=SOURCE");
    says("maps", "road=", "\"road=\" is no map; expected ROLE=SOURCE");
    says("maps", "road", "\"road\" is no map");
    says("maps", "rod=road.geojson", "\"rod\"");
    says("maps", "road=no:way=x.geojson", "no:way=x.geojson");
    struct fw_error err;
    const struct fw_farm_setting two[] = {
        {"maps", "road=road.geojson", "--map"},
        {"maps[0].where", "name = 'x'", NULL},
        {"maps[+].role", "path", NULL},
        {"maps[1].source", "road.geojson", NULL}};
    struct fw_farm *farm = with_options(FIELDS, two, 4, &err);
    if (!farm)
        fail_msg("%s", err.text);
    assert_int_equal(farm->feature_count, 1);
    assert_int_equal(farm->features[0].role, FW_ROLE_PATH);
    fw_farm_free(farm);
}

/* ---- the file ---- */

static void refuses(const char *text, const char *piece)
{
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(text, true, &err);
    if (farm || !strstr(err.text, piece))
        fail_msg("\"%s\"; expected \"%s\" of:\n%s", err.text, piece, text);
}

static void what_is_empty_is_as_if_it_were_not_there(void **state)
{
    (void)state;
    static const char *const empty[] = {
        "farm:", "farm: ~", "farm: null",  "flock:", "flock: ~", "stay:",
        "away:", "fence:",  "fence: null", "maps:",  "work: ",   "away: [~]"};
    for (size_t i = 0; i < sizeof empty / sizeof empty[0]; i++) {
        char text[100];
        snprintf(text, sizeof text, "%s" FIELDS, empty[i]);
        fw_farm_free(good_farm(text));
    }
    refuses("farm: ''" FIELDS, "farm.yaml:1: farm: is empty");
    refuses("stay: ''" FIELDS, "farm.yaml:1: stay: ");
    refuses("flock: ''" FIELDS,
            "farm.yaml:1: flock: is a single value; expected a list");
    refuses("fence: '~'" FIELDS,
            "farm.yaml:1: fence: is a single value; expected keys below it");
    refuses("~", "farm.yaml: is empty");
    refuses("--- null", "farm.yaml: is empty");
    refuses("''", "farm.yaml:1: is a single value; expected keys");
    struct fw_farm *farm = good_farm("farm: 'null'" FIELDS);
    assert_string_equal(farm->name, "null");
    fw_farm_free(farm);
    farm = good_farm("farm: Null" FIELDS);
    assert_string_equal(farm->name, "Null");
    fw_farm_free(farm);
}

/* Its line, its path, what it is and what was expected. */
static void the_wrong_kind_is_said_with_its_place(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"\n\nfarm: {a: b}",
         "farm.yaml:3: farm: is a group of keys; expected one value, such as"},
        {"away: {a: b}", "farm.yaml:1: away: is a group of keys; expected one "
                         "value or a list, such as"},
        {"away: [2026-05-01, [2026-05-02]]",
         "farm.yaml:1: away: is a list; expected one value or a list"},
        {"stay: [1]", "stay: is a list; expected one value or days of the "
                      "week, such as"},
        {"stay: {mon: {a: b}}", "stay: is a group of keys; expected one value "
                                "or days of the week"},
        {"stay: {[a]: 1 day}", "stay: is a list; expected one value or days"},
        {"fence: [1]", "fence: is a list; expected keys below it, such as"},
        {"flock: x", "flock: is a single value; expected a list, such as"},
        {"flock:\n  - head: 1\n  - [1]",
         "farm.yaml:3: flock[1]: is a list; expected keys, such as"},
        {"flock:\n  - {head: 1}\n  - {a: 1}", "farm.yaml:3: flock[1].a: no"},
        {"fence: {owns: 3}",
         "farm.yaml:1: fence.owns: is a single value; expected keys below it"},
        {"perimeter: {sides: [{side: 1}, {side: x}]}",
         "perimeter.sides[1].side: \"x\""},
        {"work: drift", "work: is a single value; expected keys below it, "
                        "such as"},
        {"fence: out-and-back",
         "expected keys below it: write fence: {reel-use: out-and-back}"},
        {"stay: {mon: 1 day, tue: 1 dog}", "farm.yaml:1: stay: \"1 dog\""},
        {"? {a: b}\n: 1", ": has a group of keys for a key; expected a word"},
        {"farm: x\nfence: {strands: 2, slack: 2 %, strands: 3}",
         "farm.yaml:2: fence.strands: is told twice, first on line 2"},
        {"farm: \"a\\nb\"", "farm.yaml:1: farm: \"a b\" has a line end"},
        {"\"fa\\nrm\": x", "\"fa rm\" has a line end"},
        {"fields: {source: field.geojson, each: [{field: A, perimeter: {sides: "
         "[{side: 1, holds: x}]}}]}",
         "fields.each[0].perimeter.sides[0].holds: \"x\" is unknown"},
        {"post-gap: 8 m", "post-gap: no such key here; it belongs to fence"},
        {"currency: EUR", "currency: no such key here; it belongs to prices"},
        {"fence: {qqqqq: x}", "fence.qqqqq: no such key; expected one of "},
        {"fence: {head: 1}", "fence.head: no such key here; it belongs to "
                             "flock[]"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[400];
        snprintf(text, sizeof text, "%s%s", rows[i][0],
                 strncmp(rows[i][0], "fields", 6) ? FIELDS : "\n");
        refuses(text, rows[i][1]);
    }
}

/* Keys of a group, all of them and no others, in their order. */
static void a_key_that_is_none_gets_the_list_of_those_there(void **state)
{
    (void)state;
    static const char *const groups[] = {
        "fence", "work", "earth", "energizer", "perimeter", "prices", ""};
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t g = 0; g < sizeof groups / sizeof groups[0]; g++) {
        char want[1200] = "expected one of ", text[100];
        const size_t length = strlen(groups[g]);
        bool any = false;
        for (size_t i = 0; i < count; i++) {
            const char *leaf = keys[i].path;
            if (length &&
                (strncmp(leaf, groups[g], length) != 0 || leaf[length] != '.'))
                continue;
            leaf += length ? length + 1 : 0;
            if (strpbrk(leaf, ".["))
                continue;
            strcat(strcat(want, any ? ", " : ""), leaf);
            any = true;
        }
        snprintf(text, sizeof text,
                 length ? "%s: {qqqqqqqqqqqqq: 1}\n" : "%sqqqqqqqqqqqqq: 1\n",
                 groups[g]);
        want[300] = '\0'; /* messages end somewhere */
        refuses(text, want);
    }
}

/* ---- what is no YAML ---- */

static void lines_of_what_is_no_yaml_are_counted(void **state)
{
    (void)state;
    for (size_t before = 0; before < 4; before++) {
        char text[300], piece[100];
        struct fw_error err = {0};
        snprintf(text, sizeof text, "%.*s# \xff here\n", (int)before * 2,
                 "#\n#\n#\n#\n");
        snprintf(piece, sizeof piece, "farm.yaml:%zu: not YAML: ", before + 1);
        refuses(text, piece);
        refuses(text, "; save the file as UTF-8");
        snprintf(text, sizeof text, "%.*sa: b\n  \tc: d\n", (int)before * 2,
                 "#\n#\n#\n#\n");
        assert_null(farm_of(text, true, &err));
        assert_says(&err, "; indent with spaces, not with tabs");
        /* A tab that is no indent is not what is wrong. */
        snprintf(text, sizeof text, "%.*sa: [b\t, c\n", (int)before * 2,
                 "#\n#\n#\n#\n");
        assert_null(farm_of(text, true, &err));
        assert_says(&err, "not YAML");
        assert_null(strstr(err.text, "tabs"));
        assert_null(strstr(err.text, "UTF-8"));
    }
    /* A tab on another line neither. */
    struct fw_error err = {0};
    assert_null(farm_of("a: 'x\n\ty'\nb: [c\n", true, &err));
    assert_null(strstr(err.text, "not with tabs"));
}

static void names_for_values_are_refused_wherever_they_stand(void **state)
{
    (void)state;
    refuses("farm: &a x" FIELDS, "farm.yaml:1: anchors and aliases");
    refuses("farm: x\naway: &a [2026-05-01]" FIELDS, "farm.yaml:2: anchors");
    refuses("farm: x\n\nfence: &a {slack: 2 %}" FIELDS, "farm.yaml:3: anchors");
    refuses("farm: x\n--- \nfarm: y\n",
            "farm.yaml:2: a second document starts");
    fw_farm_free(good_farm("---\nfarm: x" FIELDS "...\n"));
}

static void a_file_has_a_hundred_thousand_values(void **state)
{
    (void)state;
    for (size_t more = 0; more < 2; more++) {
        /* the map, its key, the list, and what is in it */
        const size_t items = 100000 - 3 + more;
        char *text = calloc(2 * items + 16, 1);
        struct fw_error err = {0};
        memcpy(text, "away: [", 7);
        for (size_t i = 0; i < items; i++)
            memcpy(text + 7 + 2 * i, i + 1 < items ? "a," : "a]", 2);
        assert_null(farm_of(text, true, &err));
        assert_says(&err, more ? "is the 100,001st value; expected fewer"
                               : "away: \"a\" is not a date");
        free(text);
    }
}

/* ---- telling a farm file by what is in it ---- */

static void a_farm_file_has_a_key_of_ours_at_a_lines_start(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        bool farm;
    } rows[] = {
        {"farm : x\n", true},
        {"farm:\tx\n", true},
        {"farm:\r\n", true},
        {"perimeter-conductor: x", true},
        {": x\n", false},
        {"   : x\n", false},
        {"fa rm: x\n", false},
        {"farm;x: y\n", false},
        {"a-key-that-is-longer-than-any-of-ours-is: 1\nfarm: x\n", true},
        {"#\n\r\n\n<gpx>\nfarm: x\n", false},
        {"\n\n[1]\nfarm: x\n", false},
        {"a: b\n<gpx>\nfarm: x\n", true},
        {"\xEF\xBB\xBF"
         "farm: x",
         true},
        {"\xEF\xBB"
         "farm: x",
         false},
        {"\xEF\xBB\xBF", false},
        {"# farm: x\n", false},
        {"#farm: x\nunits: us\n", true},
        {"head: 3\n", false}, /* not at the top */
        {"x\nfarm: y", true},
        {"\n", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        put_text("what", rows[i].text);
        if (fw_farm_is_farm_file("what") != rows[i].farm)
            fail_msg("taken for the wrong thing: %s", rows[i].text);
    }
    FILE *file = fopen("what", "wb");
    fwrite("farm: x\n\0\n", 1, 10, file);
    fclose(file);
    assert_false(fw_farm_is_farm_file("what"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_range_ends_where_it_says),
        cmocka_unit_test(what_has_a_range_of_its_own_ends_there),
        cmocka_unit_test(each_day_of_the_week_is_itself),
        cmocka_unit_test(texts_have_a_longest),
        cmocka_unit_test(words_of_us_units_are_whole_words),
        cmocka_unit_test(a_key_is_parts_and_places_in_lists),
        cmocka_unit_test(an_option_finds_the_item_of_the_file),
        cmocka_unit_test(lists_of_the_file_go_and_those_of_options_grow),
        cmocka_unit_test(a_map_as_an_option_is_role_layer_and_source),
        cmocka_unit_test(what_is_empty_is_as_if_it_were_not_there),
        cmocka_unit_test(the_wrong_kind_is_said_with_its_place),
        cmocka_unit_test(a_key_that_is_none_gets_the_list_of_those_there),
        cmocka_unit_test(lines_of_what_is_no_yaml_are_counted),
        cmocka_unit_test(names_for_values_are_refused_wherever_they_stand),
        cmocka_unit_test(a_file_has_a_hundred_thousand_values),
        cmocka_unit_test(a_farm_file_has_a_key_of_ours_at_a_lines_start),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
