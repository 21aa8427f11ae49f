/*
 * A terminal that is none: libfyaml looks for one when it is asked for colours, which nobody does.
 */
#ifndef HUBPHASE_SRC_WEB_WASM_INCLUDE_TERMIOS_H
#define HUBPHASE_SRC_WEB_WASM_INCLUDE_TERMIOS_H

struct termios {
    unsigned c_lflag;
};

#define TCSANOW   0
#define TCSAFLUSH 2

static inline int tcgetattr(int descriptor, struct termios *terminal)
{
    (void)descriptor;
    (void)terminal;
    return -1;
}

static inline int tcsetattr(int descriptor, int when, const struct termios *terminal)
{
    (void)descriptor;
    (void)when;
    (void)terminal;
    return -1;
}

static inline void cfmakeraw(struct termios *terminal)
{
    (void)terminal;
}

#endif
