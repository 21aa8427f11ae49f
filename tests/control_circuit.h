/*
 * A control on its controller as a network of resistors, solved as such: what a hand meter shows at
 * the pins of the plug between them. Nothing here knows how the roles of pins are told.
 *
 * Nodes are pins and what lies behind them; rails are battery minus, battery plus and what the
 * controller makes of it. A Hall element is a source whose volts lie between its own two supply
 * nodes. The meter is 10 megohm from the tip to battery minus, so that a pin that goes nowhere
 * shows what the meter leaves of the stray volts that it picks up.
 */
#ifndef HUBPHASE_TESTS_CONTROL_CIRCUIT_H
#define HUBPHASE_TESTS_CONTROL_CIRCUIT_H

#include <assert.h>
#include <math.h>
#include <string.h>

#define NET_NODES 24
#define NET_METER 10e6

/* One node is battery minus. */
enum { NET_MINUS = 0 };

typedef struct net {
    int nodes;
    double g[NET_NODES][NET_NODES]; /* nodal conductances, rows of currents */
    double i[NET_NODES];            /* currents into the nodes */
    double fixed[NET_NODES];        /* NAN: a node of its own */
} net;

static inline net net_make(void)
{
    net n;
    memset(&n, 0, sizeof n);
    n.nodes = 1;
    n.fixed[NET_MINUS] = 0.0;
    return n;
}

static inline int net_node(net *n)
{
    assert(n->nodes < NET_NODES);
    n->fixed[n->nodes] = NAN;
    return n->nodes++;
}

static inline int net_rail(net *n, double volts)
{
    int node = net_node(n);
    n->fixed[node] = volts;
    return node;
}

static inline void net_resistor(net *n, int a, int b, double ohm)
{
    n->g[a][a] += 1.0 / ohm;
    n->g[b][b] += 1.0 / ohm;
    n->g[a][b] -= 1.0 / ohm;
    n->g[b][a] -= 1.0 / ohm;
}

/* Node `out` is fed through `ohm` by a source at v(low) + share * (v(high) - v(low)), which takes
 * its current from `high` and gives it to `low` in that share. */
static inline void net_source(net *n, int out, int low, int high, double share, double ohm)
{
    const double g = 1.0 / ohm;
    n->g[out][out] += g;
    n->g[out][low] -= g * (1.0 - share);
    n->g[out][high] -= g * share;
}

/* Volts of every node. A node that nothing joins is held by a thousand times the meter. */
static inline void net_solve(const net *n, double *volts)
{
    double a[NET_NODES][NET_NODES + 1];
    for (int r = 0; r < n->nodes; r++) {
        for (int c = 0; c < n->nodes; c++)
            a[r][c] = isnan(n->fixed[r]) ? n->g[r][c] : (r == c);
        a[r][r] += isnan(n->fixed[r]) ? 1e-3 / NET_METER : 0.0;
        a[r][n->nodes] = isnan(n->fixed[r]) ? n->i[r] : n->fixed[r];
    }
    for (int p = 0; p < n->nodes; p++) {
        int best = p;
        for (int r = p + 1; r < n->nodes; r++)
            if (fabs(a[r][p]) > fabs(a[best][p]))
                best = r;
        for (int c = 0; c <= n->nodes; c++) {
            double swap = a[p][c];
            a[p][c] = a[best][c];
            a[best][c] = swap;
        }
        assert(a[p][p] != 0.0);
        for (int r = 0; r < n->nodes; r++)
            for (int c = n->nodes; r != p && c >= p; c--)
                a[r][c] -= a[p][c] * a[r][p] / a[p][p];
    }
    for (int r = 0; r < n->nodes; r++)
        volts[r] = a[r][n->nodes] / a[r][r];
}

/* What a meter between a node and battery minus gets to see. */
static inline double net_metered(net n, int node)
{
    double volts[NET_NODES];
    net_resistor(&n, node, NET_MINUS, NET_METER);
    net_solve(&n, volts);
    return volts[node];
}

/* Ohms from a node to battery minus, all rails dead: what a meter on continuity measures. A dead
 * rail of a supply is no short circuit: it is left out. */
static inline double net_dead_ohms(net n, int node)
{
    double volts[NET_NODES];
    for (int k = 1; k < n.nodes; k++)
        if (!isnan(n.fixed[k])) {
            n.fixed[k] = NAN;
            net_resistor(&n, k, NET_MINUS, 2000.0);
        }
    memset(n.i, 0, sizeof n.i);
    n.i[node] = 1e-3;
    net_solve(&n, volts);
    return volts[node] / 1e-3;
}

#endif
