#include "logistic.h"

#include <math.h>

enum { STEPS = 300 };

static const double RATE  = 0.5;
static const double RIDGE = 1.0;

typedef struct {
  double mean[LOGISTIC_FEATURES];
  double spread[LOGISTIC_FEATURES];
  double weights[LOGISTIC_FEATURES + 1]; // The last one is the constant
} Model;

static double
scored(const Model* const   model,
       const Example* const example,
       const unsigned       n_features)
{
  double sum = model->weights[LOGISTIC_FEATURES];
  for (unsigned k = 0; k < n_features; ++k) {
    sum += model->weights[k] * (example->features[k] - model->mean[k]) /
           model->spread[k];
  }
  return sum;
}

static void
standardise(Model* const         model,
            const Example* const examples,
            const unsigned       n,
            const unsigned       n_features,
            const unsigned       left_out)
{
  for (unsigned k = 0; k < n_features; ++k) {
    double sum     = 0.0;
    double squares = 0.0;
    double used    = 0.0;
    for (unsigned i = 0; i < n; ++i) {
      if (examples[i].group != left_out) {
        sum += examples[i].features[k];
        squares += examples[i].features[k] * examples[i].features[k];
        ++used;
      }
    }
    model->mean[k]        = sum / used;
    const double variance = squares / used - model->mean[k] * model->mean[k];
    model->spread[k]      = variance > 1e-12 ? sqrt(variance) : 1.0;
  }
}

/// Go one step down the slope.
static void
step(Model* const         model,
     const Example* const examples,
     const unsigned       n,
     const unsigned       n_features,
     const unsigned       left_out)
{
  double slope[LOGISTIC_FEATURES + 1] = {0};
  double used                         = 0.0;
  for (unsigned i = 0; i < n; ++i) {
    if (examples[i].group == left_out) {
      continue;
    }
    const double p =
      1.0 / (1.0 + exp(-scored(model, &examples[i], n_features)));
    const double miss = p - examples[i].is_ours;
    for (unsigned k = 0; k < n_features; ++k) {
      slope[k] +=
        miss * (examples[i].features[k] - model->mean[k]) / model->spread[k];
    }
    slope[LOGISTIC_FEATURES] += miss;
    ++used;
  }
  for (unsigned k = 0; k < n_features; ++k) {
    slope[k] += RIDGE * model->weights[k];
  }
  for (unsigned k = 0; k <= LOGISTIC_FEATURES; ++k) {
    model->weights[k] -= RATE * slope[k] / used;
  }
}

void
logistic_cross(Example* const examples,
               const unsigned n,
               const unsigned n_features)
{
  for (unsigned i = 0; i < n; ++i) {
    bool is_first = true; // Of its group
    for (unsigned before = 0; before < i; ++before) {
      is_first = is_first && examples[before].group != examples[i].group;
    }
    if (!is_first) {
      continue;
    }
    const unsigned left_out = examples[i].group;
    Model          model    = {.weights = {0}};
    standardise(&model, examples, n, n_features, left_out);
    for (unsigned s = 0; s < STEPS; ++s) {
      step(&model, examples, n, n_features, left_out);
    }
    for (unsigned told = i; told < n; ++told) {
      if (examples[told].group == left_out) {
        examples[told].score = scored(&model, &examples[told], n_features);
      }
    }
  }
}

double
logistic_area(const Example* const examples, const unsigned n)
{
  double above = 0.0;
  double pairs = 0.0;
  for (unsigned i = 0; i < n; ++i) {
    for (unsigned j = 0; j < n; ++j) {
      if (examples[i].is_ours && !examples[j].is_ours) {
        const double less = examples[i].score - examples[j].score;
        above += less > 0.0 ? 1.0 : less < 0.0 ? 0.0 : 0.5;
        ++pairs;
      }
    }
  }
  return pairs > 0.0 ? above / pairs : 0.5;
}
