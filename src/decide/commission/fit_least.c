/* Least squares with priors: see the header. */
#include "decide/commission/fit_least.h"

#include <math.h>
#include <string.h>

#define N HP_LEAST_PARAMETERS

/* Of a prior's standard deviation: small against it, large against rounding. */
#define STEP 1e-4
/* chosen: more than any of these smooth problems takes. */
#define ROUNDS_MAX 200
#define SETTLED    1e-5

static double square(double x)
{
    return x * x;
}

/* What is made least; *misfit: what the readings add to it. */
static double cost(const hp_least *l, const double *p, double *residual, double *misfit)
{
    double sum = 0.0, prior = 0.0;
    l->residual(l->user, p, residual);
    for (int k = 0; k < l->residuals; k++)
        sum += square(residual[k]);
    for (int j = 0; j < l->parameters; j++)
        prior += square((p[j] - l->prior[j]) / l->prior_sd[j]);
    *misfit = sum;
    return sum + prior;
}

/* Normal matrix and the slope of half the cost; both with the priors. */
static void normal(const hp_least *l, const double *p, const double *residual, double a[N][N],
                   double g[N])
{
    double slope[N][HP_LEAST_RESIDUALS], up[HP_LEAST_RESIDUALS], down[HP_LEAST_RESIDUALS], at[N];
    memcpy(at, p, sizeof at);
    for (int j = 0; j < l->parameters; j++) {
        double h = STEP * l->prior_sd[j];
        at[j] = p[j] + h;
        l->residual(l->user, at, up);
        at[j] = p[j] - h;
        l->residual(l->user, at, down);
        at[j] = p[j];
        for (int k = 0; k < l->residuals; k++)
            slope[j][k] = (up[k] - down[k]) / (2.0 * h);
    }
    for (int i = 0; i < l->parameters; i++) {
        double weight = 1.0 / square(l->prior_sd[i]);
        g[i] = weight * (p[i] - l->prior[i]);
        for (int k = 0; k < l->residuals; k++)
            g[i] += slope[i][k] * residual[k];
        for (int j = 0; j <= i; j++) {
            double sum = i == j ? weight : 0.0;
            for (int k = 0; k < l->residuals; k++)
                sum += slope[i][k] * slope[j][k];
            a[i][j] = a[j][i] = sum;
        }
    }
}

/* Cholesky's lower factor; false when the matrix is not positive definite. */
static bool factor(double a[N][N], double l[N][N], int n)
{
    for (int i = 0; i < n; i++)
        for (int j = 0; j <= i; j++) {
            double sum = a[i][j];
            for (int k = 0; k < j; k++)
                sum -= l[i][k] * l[j][k];
            if (i == j && !(sum > 0.0))
                return false;
            l[i][j] = i == j ? sqrt(sum) : sum / l[j][j];
        }
    return true;
}

static void solve(double l[N][N], const double *b, double *x, int n)
{
    for (int i = 0; i < n; i++) {
        x[i] = b[i];
        for (int k = 0; k < i; k++)
            x[i] -= l[i][k] * x[k];
        x[i] /= l[i][i];
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++)
            x[i] -= l[k][i] * x[k];
        x[i] /= l[i][i];
    }
}

static void fill_covariance(hp_least *l, double a[N][N])
{
    double lower[N][N], unit[N], column[N];
    if (!factor(a, lower, l->parameters)) {
        l->settled = false;
        return;
    }
    l->freedom = l->residuals;
    for (int j = 0; j < l->parameters; j++) {
        memset(unit, 0, sizeof unit);
        unit[j] = 1.0;
        solve(lower, unit, column, l->parameters);
        for (int i = 0; i < l->parameters; i++)
            l->covariance[i][j] = column[i];
        l->freedom -= 1.0 - fmin(1.0, l->covariance[j][j] / square(l->prior_sd[j]));
    }
    l->freedom = fmax(0.0, l->freedom);
}

/* One step that lowers the cost, with more damping until it does; false: none does. */
static bool step(hp_least *l, double a[N][N], const double g[N], double *damping, double *best,
                 double *residual, double *moved)
{
    while (*damping < 1e12) {
        double damped[N][N], lower[N][N], back[N], x[N], p[N], misfit;
        double other[HP_LEAST_RESIDUALS];
        memcpy(damped, a, sizeof damped);
        for (int i = 0; i < l->parameters; i++) {
            damped[i][i] *= 1.0 + *damping;
            back[i] = -g[i];
        }
        memcpy(p, l->parameter, sizeof p);
        if (factor(damped, lower, l->parameters)) {
            *moved = 0.0;
            solve(lower, back, x, l->parameters);
            for (int i = 0; i < l->parameters; i++) {
                p[i] += x[i];
                *moved = fmax(*moved, fabs(x[i]) / l->prior_sd[i]);
            }
            double now = cost(l, p, other, &misfit);
            if (now <= *best) {
                *best = now;
                l->misfit = misfit;
                memcpy(l->parameter, p, sizeof p);
                memcpy(residual, other, sizeof other);
                *damping *= 0.1;
                return true;
            }
        }
        *damping = fmax(*damping * 10.0, 1e-6);
    }
    return false;
}

void hp_least_solve(hp_least *l)
{
    double a[N][N], g[N], residual[HP_LEAST_RESIDUALS] = {0}, damping = 1e-3;
    memcpy(l->parameter, l->start, sizeof l->parameter);
    memset(l->covariance, 0, sizeof l->covariance);
    l->settled = false;
    double best = cost(l, l->parameter, residual, &l->misfit);
    for (int round = 0; round < ROUNDS_MAX && !l->settled; round++) {
        double moved = 0.0;
        normal(l, l->parameter, residual, a, g);
        l->settled = !step(l, a, g, &damping, &best, residual, &moved) || moved < SETTLED;
    }
    normal(l, l->parameter, residual, a, g);
    fill_covariance(l, a);
}

double hp_least_sd(const hp_least *l, double (*value)(const void *user, const double *parameter),
                   const void *user)
{
    double slope[N], at[N], sum = 0.0;
    memcpy(at, l->parameter, sizeof at);
    for (int j = 0; j < l->parameters; j++) {
        double h = STEP * l->prior_sd[j];
        at[j] = l->parameter[j] + h;
        double up = value(user, at);
        at[j] = l->parameter[j] - h;
        slope[j] = (up - value(user, at)) / (2.0 * h);
        at[j] = l->parameter[j];
    }
    for (int i = 0; i < l->parameters; i++)
        for (int j = 0; j < l->parameters; j++)
            sum += slope[i] * l->covariance[i][j] * slope[j];
    double wider = l->freedom >= 1.0 ? fmax(1.0, l->misfit / l->freedom) : 1.0;
    return sqrt(fmax(0.0, sum) * wider);
}
