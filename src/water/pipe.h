/* One pipe from where water comes from to a trough: what is lost on the way by
 * Hazen and Williams, what is left for the trough's valve, and which bore is
 * enough. Heads are metres of water. */
#ifndef FW_WATER_PIPE_H
#define FW_WATER_PIPE_H

#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

struct fw_pipe {
    double length_m, bore_m; /* bore: inside */
    double flow_l_min;
    double c;       /* smoothness, of Hazen and Williams: 150 new plastic */
    double head_m;  /* at the trough while nothing flows: how much higher the
                       source stands, and what a pump or the mains adds; NaN:
                       nobody told */
    double valve_m; /* what the trough's valve wants while it fills */
};

struct fw_pipe_run {
    double head_loss_m, velocity_m_s;
    double left_m;     /* at the valve; negative: it does not come so far. NaN:
                          nobody told the head */
    double most_l_min; /* that leaves the valve what it wants; NaN likewise */
    bool slow;         /* no faster than a pipe should run */
    bool enough;       /* slow, and the valve has what it wants where that is
                          known */
};

/* FW_EINPUT: a value is out of its range. */
enum fw_status fw_water_pipe(const struct fw_pipe *pipe,
                             struct fw_pipe_run *out, struct fw_error *err);

/* The bores that are sold, from the narrowest. */
struct fw_pipe_size {
    const char *name; /* "1 1/4 in" */
    double bore_m;
};
size_t fw_water_pipe_sizes(void); /* how many there are */
struct fw_pipe_size fw_water_pipe_size(size_t index);

/* The narrowest of them that is enough for this length, flow and head, whatever
 * the pipe's own bore; how many there are, where none is. */
size_t fw_water_pipe_least(const struct fw_pipe *pipe);

/* Pressure as head, and back. */
double fw_water_head_m(double kpa);
double fw_water_kpa(double head_m);

#endif
