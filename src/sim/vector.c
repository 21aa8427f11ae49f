/* Fixed-size vector for SUNDIALS: see the header. */
#include "sim/vector.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Entries that a stage needs: the dynamic ones, and one more that makes pairs. */
#define STAGE_COUNT (HP_STATE_DYNAMIC + HP_STATE_DYNAMIC % 2)

typedef struct hp_vector {
    double y[HP_STATE_COUNT]; /* first: hp_vector_data */
    hp_vector_stock *stock;   /* borrowed; where it belongs */
} hp_vector;

static N_Vector_ID vector_id(N_Vector v)
{
    (void)v;
    return SUNDIALS_NVEC_CUSTOM;
}

/* Really. */
static void vector_free(N_Vector v)
{
    if (!v)
        return;
    free(v->content);
    v->content = NULL;
    N_VFreeEmpty(v);
}

static void vector_destroy(N_Vector v)
{
    if (!v)
        return;
    hp_vector_stock *stock = ((hp_vector *)v->content)->stock;
    stock->spare[stock->count++] = v;
}

N_Vector hp_vector_take(hp_vector_stock *stock)
{
    if (stock->count == 0)
        return NULL;
    N_Vector v = stock->spare[--stock->count];
    memset(hp_vector_data(v), 0, HP_STATE_COUNT * sizeof(double));
    return v;
}

static N_Vector vector_clone(N_Vector w)
{
    return hp_vector_take(((hp_vector *)w->content)->stock);
}

static sunindextype vector_length(N_Vector v)
{
    (void)v;
    return HP_STATE_COUNT;
}

/* Every operation below is the loop its name says, over restrict-free arrays since ARKODE may pass
 * the same vector twice. */
#define FOR_EACH(k) for (int k = 0; k < HP_STATE_COUNT; k++)

static void vector_linear_sum(realtype a, N_Vector x, realtype b, N_Vector y, N_Vector z)
{
    const double *xd = hp_vector_data(x), *yd = hp_vector_data(y);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = a * xd[k] + b * yd[k];
}

static void vector_const(realtype c, N_Vector z)
{
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = c;
}

static void vector_prod(N_Vector x, N_Vector y, N_Vector z)
{
    const double *xd = hp_vector_data(x), *yd = hp_vector_data(y);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = xd[k] * yd[k];
}

static void vector_div(N_Vector x, N_Vector y, N_Vector z)
{
    const double *xd = hp_vector_data(x), *yd = hp_vector_data(y);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = xd[k] / yd[k];
}

static void vector_scale(realtype c, N_Vector x, N_Vector z)
{
    const double *xd = hp_vector_data(x);
    double *zd = hp_vector_data(z);
    if (c == 1.0) {
        memmove(zd, xd, HP_STATE_COUNT * sizeof(double));
        return;
    }
    FOR_EACH(k)
    zd[k] = c * xd[k];
}

static void vector_abs(N_Vector x, N_Vector z)
{
    const double *xd = hp_vector_data(x);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = fabs(xd[k]);
}

static void vector_inv(N_Vector x, N_Vector z)
{
    const double *xd = hp_vector_data(x);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = 1.0 / xd[k];
}

static void vector_add_const(N_Vector x, realtype b, N_Vector z)
{
    const double *xd = hp_vector_data(x);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = xd[k] + b;
}

static realtype vector_max_norm(N_Vector x)
{
    const double *xd = hp_vector_data(x);
    double largest = 0.0;
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        largest = fmax(largest, fabs(xd[k]));
    return largest;
}

static realtype vector_wrms_norm(N_Vector x, N_Vector w)
{
    const double *xd = hp_vector_data(x), *wd = hp_vector_data(w);
    /* Three sums side by side, so that few wait for one another. */
    double sum[3] = {0.0, 0.0, 0.0};
    _Static_assert(HP_STATE_DYNAMIC % 3 == 0, "three sums of one length");
    for (int k = 0; k < HP_STATE_DYNAMIC; k++) {
        double weighted = xd[k] * wd[k];
        sum[k % 3] += weighted * weighted;
    }
    return sqrt((sum[0] + sum[1] + sum[2]) * (1.0 / HP_STATE_DYNAMIC));
}

static realtype vector_min(N_Vector x)
{
    const double *xd = hp_vector_data(x);
    double least = xd[0];
    FOR_EACH(k)
    least = fmin(least, xd[k]);
    return least;
}

/* z = sum c_n x_n over `length` entries, in order; `count` and `length` are constants where it is
 * called. The vectors are the same or apart, so no entry waits for another. */
static inline __attribute__((always_inline)) void combine(int count, int length, const double *c,
                                                          N_Vector *x, double *z)
{
    const double *xd[HP_STEP_VECTORS];
    for (int n = 0; n < count; n++)
        xd[n] = hp_vector_data(x[n]);
#ifndef __clang__ /* which has no word for it */
#pragma GCC ivdep
#endif
    for (int k = 0; k < length; k++) {
        double sum = c[0] * xd[0][k];
        for (int n = 1; n < count; n++)
            sum += c[n] * xd[n][k];
        z[k] = sum;
    }
}

/* Four entries at a time where the processor can; the same sums in the same order, so the same
 * bytes. Not under the sanitizers, whose set-up the choice would come before. */
#if defined(__x86_64__) && defined(__gnu_linux__) && defined(__GNUC__) && !defined(__clang__) &&   \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define WIDE __attribute__((target_clones("avx2", "default")))
#else
#define WIDE
#endif

/* Only the sum that ends a step, over all slopes and the state before, is wanted whole. Shorter
 * ones are stages, whose integrals no right-hand side reads, and error estimates, in which they
 * weigh nothing. */
WIDE static int vector_linear_combination(int count, realtype *c, N_Vector *x, N_Vector z)
{
    double *zd = hp_vector_data(z);
    switch (count) {
    case 1: combine(1, STAGE_COUNT, c, x, zd); return 0;
    case 2: combine(2, STAGE_COUNT, c, x, zd); return 0;
    case 3: combine(3, STAGE_COUNT, c, x, zd); return 0;
    case 4: combine(4, STAGE_COUNT, c, x, zd); return 0;
    case 5: combine(5, STAGE_COUNT, c, x, zd); return 0;
    case 6: combine(6, STAGE_COUNT, c, x, zd); return 0;
    case HP_STEP_VECTORS: combine(HP_STEP_VECTORS, HP_STATE_COUNT, c, x, zd); return 0;
    default: return -1;
    }
}

static N_Vector vector_make(SUNContext context, hp_vector_stock *stock)
{
    N_Vector v = N_VNewEmpty(context);
    if (!v)
        return NULL;
    v->ops->nvgetvectorid = vector_id;
    v->ops->nvclone = vector_clone;
    v->ops->nvdestroy = vector_destroy;
    v->ops->nvgetlength = vector_length;
    v->ops->nvlinearsum = vector_linear_sum;
    v->ops->nvconst = vector_const;
    v->ops->nvprod = vector_prod;
    v->ops->nvdiv = vector_div;
    v->ops->nvscale = vector_scale;
    v->ops->nvabs = vector_abs;
    v->ops->nvinv = vector_inv;
    v->ops->nvaddconst = vector_add_const;
    v->ops->nvmaxnorm = vector_max_norm;
    v->ops->nvwrmsnorm = vector_wrms_norm;
    v->ops->nvmin = vector_min;
    v->ops->nvlinearcombination = vector_linear_combination;
    hp_vector *content = calloc(1, sizeof *content);
    if (!content) {
        vector_free(v);
        return NULL;
    }
    content->stock = stock;
    v->content = content;
    return v;
}

bool hp_vector_stock_fill(hp_vector_stock *stock, SUNContext context)
{
    while (stock->count < HP_VECTOR_STOCK) {
        N_Vector v = vector_make(context, stock);
        if (!v)
            return false;
        stock->spare[stock->count++] = v;
    }
    return true;
}

void hp_vector_stock_free(hp_vector_stock *stock)
{
    while (stock->count > 0)
        vector_free(stock->spare[--stock->count]);
}
