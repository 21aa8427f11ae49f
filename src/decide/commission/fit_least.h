/*
 * Least squares with what was known before: the parameters that make
 *
 *   sum of residual_i(p)^2 + sum of ((p_j - prior_j) / prior_sd_j)^2
 *
 * least, and their covariance. A residual is (told - read) / standard deviation, so the first sum
 * is about the number of readings where the model holds. Method: Levenberg and Marquardt
 * (Marquardt, J. SIAM 11(2), 1963; from memory) with derivatives by central differences; the priors
 * make the normal matrix positive definite, so Cholesky's factors are there always.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_FIT_LEAST_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_FIT_LEAST_H

#include <stdbool.h>

#define HP_LEAST_PARAMETERS 20
#define HP_LEAST_RESIDUALS  40

typedef struct hp_least {
    /* given */
    int parameters; /* 1..HP_LEAST_PARAMETERS */
    int residuals;  /* 0..HP_LEAST_RESIDUALS */
    double prior[HP_LEAST_PARAMETERS];
    double prior_sd[HP_LEAST_PARAMETERS]; /* > 0 */
    double start[HP_LEAST_PARAMETERS];    /* where the search begins: near what is sought */
    void (*residual)(const void *user, const double *parameter, double *residual);
    const void *user; /* borrowed */
    /* found */
    double parameter[HP_LEAST_PARAMETERS];
    double covariance[HP_LEAST_PARAMETERS][HP_LEAST_PARAMETERS];
    double misfit;  /* the first sum */
    double freedom; /* readings less what they told of the parameters; may be 0 */
    bool settled;   /* it came to rest */
} hp_least;

void hp_least_solve(hp_least *least);
/* Standard deviation of a function of the parameters, by its slopes. Where the readings scatter
 * more than their errors say, it is widened by as much. */
double hp_least_sd(const hp_least *least,
                   double (*value)(const void *user, const double *parameter), const void *user);

#endif
