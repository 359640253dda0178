/* Half a turn in radians, and how many degrees a radian has. */
#ifndef FW_BASE_ANGLE_H
#define FW_BASE_ANGLE_H

#define FW_PI 3.14159265358979323846
#define FW_RADIAN_DEG (180 / FW_PI)

#endif
