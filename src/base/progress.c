#include "base/progress.h"

struct work {
    fw_progress_told *told;
    void *data;
    const char *doing;
    struct fw_progress part;
    double most; /* told yet: work that is done over again is no step back */
};

static _Thread_local struct work progress = {.part = {0, 1}};

static void tell(double share)
{
    if (share > progress.most)
        progress.most = share;
    if (progress.told && progress.doing)
        progress.told(progress.doing, progress.most, progress.data);
}

void fw_progress_hear(fw_progress_told *told, void *data)
{
    progress.told = told;
    progress.data = data;
}

void fw_progress_begin(const char *doing)
{
    progress.doing = doing;
    progress.part = (struct fw_progress){0, 1};
    progress.most = 0;
    tell(0);
}

struct fw_progress fw_progress_enter(size_t number, size_t of)
{
    const struct fw_progress whole = progress.part;
    const double size = (whole.to - whole.from) / (double)of;
    const double from = whole.from + size * (double)number;
    progress.part = (struct fw_progress){from, from + size};
    tell(from);
    return whole;
}

void fw_progress_leave(struct fw_progress whole)
{
    tell(progress.part.to);
    progress.part = whole;
}
