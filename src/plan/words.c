#include "plan/words.h"

const char *const fw_plan__units_words[] = {
    [FW_METRIC] = "metric", [FW_US] = "us"};
const char *const fw_plan__season_words[] = {
    [FW_SEASON_GROWTH] = "growth", [FW_SEASON_DORMANT] = "dormant"};
const char *const fw_plan__field_order_words[] = {
    [FW_ORDER_GIVEN] = "given", [FW_ORDER_NEAREST] = "nearest"};
const char *const fw_plan__holds_words[] = {
    [FW_HOLDS_NOTHING] = "nothing",
    [FW_HOLDS_SHEEP] = "sheep",
    [FW_HOLDS_LAMBS] = "lambs",
};
const char *const fw_plan__air_words[FW_AIR_COUNT] = {
    [FW_AIR_COOL] = "cool", [FW_AIR_MILD] = "mild", [FW_AIR_WARM] = "warm"};
const char *const fw_plan__answer_words[] = {[FW_NO] = "no", [FW_YES] = "yes"};
/* And what would make it known. */
const char *const fw_plan__untold_words[] = {
    [FW_WALK_NOT_GRAZED] = "it is not grazed in this plan",
    [FW_WALK_NO_WATER] =
        "no water is told and no trough moves: say where water stands (water), "
        "or let a trough move (trough-moves: yes)",
    [FW_WALK_SHUT_OFF] =
        "the water is not on the ground that they have then: a trough that "
        "moves (trough-moves: yes), a lane to it or no back fence would do",
    [FW_WALK_CUT_OFF] = "a piece of it cannot be reached from the water over "
                        "what they have then: open a way to that piece, or put "
                        "water there too",
    [FW_WALK_NOT_DRAWN] = "the way leads over ground whose shape is not known, "
                          "or has over 5,000 corners: draw it, or draw it with "
                          "fewer",
    [FW_WALK_TOO_MUCH] = "the ways of so many paddocks would take too long to "
                         "find: plan fewer days at a time"};
const char *const fw_plan__coat_words[] = {
    [FW_HAIR] = "hair", [FW_WOOL] = "wool", [FW_SHORN] = "shorn"};
const char *const fw_plan__use_of_words[] = {
    [FW_USE_ABOVE_RESIDUAL] = "above-residual", [FW_USE_STANDING] = "standing"};
const char *const fw_plan__bonded_words[] = {
    [FW_BONDED_LIVE_END] = "live-end",
    [FW_BONDED_BOTH_ENDS] = "both-ends",
    [FW_BONDED_EVERY] = "every",
};
const char *const fw_plan__role_words[] = {
    [FW_FENCE_PERIMETER] = "perimeter",
    [FW_FENCE_STANDING] = "standing",
    [FW_FENCE_LANE] = "lane",
    [FW_FENCE_MOVED] = "moved",
};
const char *const fw_plan__why_words[] = {
    [FW_POST_END] = "end",     [FW_POST_BEND] = "bend",
    [FW_POST_GAP] = "gap",     [FW_POST_TIE] = "tie",
    [FW_POST_SIGN] = "sign",   [FW_POST_DIP] = "dip",
    [FW_POST_CREST] = "crest", [FW_POST_CROSSING] = "crossing",
};
const char *const fw_plan__ground_words[FW_GROUND_COUNT] = {
    [FW_GROUND_ANY] = "any",
    [FW_GROUND_FIRM] = "firm",
    [FW_GROUND_SHADE] = "shade",
    [FW_GROUND_SHELTER] = "shelter",
};
const char *const fw_plan__keep_words[] = {"storm", "heat"};
const char *const fw_plan__tried_words[] = {
    [FW_TRIED_NO] = "no",
    [FW_TRIED_LOOKED] = "looked",
    [FW_TRIED_KEPT] = "kept",
    [FW_TRIED_BROKEN] = "broken",
};
const char *const fw_plan__step_words[] = {
    [FW_STEP_SET] = "set",
    [FW_STEP_HOOK] = "hook",
    [FW_STEP_READ] = "read",
    [FW_STEP_CARRY] = "carry",
    [FW_STEP_OPEN] = "open",
    [FW_STEP_WALK] = "walk",
    [FW_STEP_LATER] = "later",
    [FW_STEP_COUNT] = "count",
    [FW_STEP_BRIDGE] = "bridge",
    [FW_STEP_CLOSE] = "close",
    [FW_STEP_TAKE_DOWN] = "take-down",
};
