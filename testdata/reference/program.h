// The distance between two planar shapes as a quadratic program and its sign as a
// linear one, for CGAL's exact solver. The steps
// share nothing with axes.h but the reading of numbers.
#ifndef REFERENCE_PROGRAM_H
#define REFERENCE_PROGRAM_H

#include <CGAL/Gmpz.h>
#include <CGAL/QP_functions.h>
#include <CGAL/QP_models.h>
#include "axes.h"

using Whole = CGAL::Gmpz;
using Program = CGAL::Quadratic_program<Whole>;
using WholeVec = std::array<Whole, 3>;

// bland picks the next step by Bland's rule, which ends always. The solver's own
// choice went round in circles on one of 516,712 pairs.
inline CGAL::Quadratic_program_options bland() {
  CGAL::Quadratic_program_options options;
  options.set_pricing_strategy(CGAL::QP_BLAND);
  return options;
}

inline Whole dots(const WholeVec& a, const WholeVec& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
inline WholeVec whole(const V3& v, const Scale& s) {
  return {Whole(s.whole(v[0]).get_mpz_t()), Whole(s.whole(v[1]).get_mpz_t()), Whole(s.whole(v[2]).get_mpz_t())};
}
inline WholeVec difference(const WholeVec& a, const WholeVec& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
inline WholeVec product(const WholeVec& a, const WholeVec& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

// Mixture is a point of one shape as a fixed point plus weighted vectors. A
// box: its corner and edges with weights 0 to 1. A hull: its points, weights
// from 0 that sum to 1; its way without end, any weight from 0.
struct Mixture {
  WholeVec fixed = {0, 0, 0};
  std::vector<WholeVec> vectors;
  bool bounded = false;  // weights end at 1 each (a box)
  size_t summed = 0;     // the first so many sum to 1 (a hull)

  Mixture(const Shape& s, const Scale& scale) {
    for (const V3& v : s.p) vectors.push_back(whole(v, scale));
    if (s.kind == Shape::box) {
      fixed = vectors[0];
      vectors.erase(vectors.begin());
      bounded = true;
      return;
    }
    summed = vectors.size();
    if (s.endless()) vectors.push_back(whole(s.behind, scale));
  }
};

// quadratic is min |a - b|^2 over both mixtures; values are times 2^exponent.
inline Program quadratic(const Mixture& a, const Mixture& b) {
  Program qp(CGAL::EQUAL, true, 0, false, 0);
  std::vector<WholeVec> all = a.vectors;
  for (const auto& v : b.vectors) all.push_back({-v[0], -v[1], -v[2]});
  WholeVec fixed = difference(a.fixed, b.fixed);
  size_t na = a.vectors.size();
  for (size_t i = 0; i < all.size(); i++) {
    if (i < na ? a.bounded : b.bounded) qp.set_u(int(i), true, 1);
    for (size_t j = 0; j <= i; j++) qp.set_d(int(i), int(j), 2 * dots(all[i], all[j]));
    qp.set_c(int(i), 2 * dots(fixed, all[i]));
  }
  qp.set_c0(dots(fixed, fixed));
  int row = 0;
  auto sum = [&](size_t from, size_t n) {
    for (size_t i = 0; i < n; i++) qp.set_a(int(from + i), row, 1);
    if (n > 0) qp.set_b(row++, 1);
  };
  sum(0, a.summed);
  sum(na, b.summed);
  return qp;
}

inline mpq_class fraction(const CGAL::Quotient<Whole>& q) {
  mpq_class out(mpz_class(q.numerator().mpz()), mpz_class(q.denominator().mpz()));
  out.canonicalize();
  return out;
}

// root is the square root times 2^exponent, rounded, of any size.
inline double root(const mpq_class& v, long exponent) {
  long e = long(mpz_sizeinbase(v.get_num_mpz_t(), 2)) - long(mpz_sizeinbase(v.get_den_mpz_t(), 2));
  e -= e & 1;
  mpq_class scaled = e >= 0 ? mpq_class(v / (mpz_class(1) << e)) : mpq_class(v * (mpz_class(1) << -e));
  return std::ldexp(std::sqrt(scaled.get_d()), int(e / 2 + exponent));
}

// distance is exact up to two roundings at the end. With where, it also gives
// the nearest points, one on each shape.
inline double distance(const Shape& a, const Shape& b, std::vector<V3>* where = nullptr) {
  Scale scale;
  scale.include(a);
  scale.include(b);
  Mixture ma(a, scale), mb(b, scale);
  Program qp = quadratic(ma, mb);
  auto solution = CGAL::solve_quadratic_program(qp, Whole(), bland());
  if (!solution.is_optimal()) throw std::runtime_error("the quadratic program has no optimum");
  auto weight = solution.variable_values_begin();
  for (const Mixture* m : {&ma, &mb}) {
    if (!where) break;
    std::array<mpq_class, 3> at;
    for (int k = 0; k < 3; k++) at[k] = mpz_class(m->fixed[k].mpz());
    for (const auto& v : m->vectors) {
      mpq_class w = fraction(*weight++);
      for (int k = 0; k < 3; k++) at[k] += w * mpz_class(v[k].mpz());
    }
    V3 point;
    for (int k = 0; k < 3; k++) point[k] = std::ldexp(at[k].get_d(), int(scale.exponent));
    where->push_back(point);
  }
  return root(fraction(solution.objective_value()), scale.exponent);
}

// hasInside says whether D = A - B has inner points: three directions in it
// that are not in one plane.
inline bool hasInside(const std::vector<WholeVec>& directions) {
  WholeVec u = {0, 0, 0}, n = u;
  auto zero = [](const WholeVec& v) { return v[0] == 0 && v[1] == 0 && v[2] == 0; };
  for (const auto& w : directions) {
    if (zero(u)) u = w;
    else if (zero(n)) n = product(u, w);
    else if (dots(n, w) != 0) return true;
  }
  return false;
}

// corners gives a box as a hull of its eight corners, exactly; a hull as it is.
inline Mixture corners(const Shape& s, const Scale& scale) {
  Mixture m(s, scale);
  if (s.kind == Shape::hull) return m;
  std::vector<WholeVec> all = {m.fixed};
  for (const auto& e : m.vectors)
    for (size_t i = 0, n = all.size(); i < n; i++) all.push_back({all[i][0] + e[0], all[i][1] + e[1], all[i][2] + e[2]});
  m.vectors = all;
  m.fixed = {0, 0, 0};
  m.bounded = false;
  m.summed = 8;
  return m;
}

// sign is +1 when no weights make a point of A and one of B equal. Else it looks
// for such weights that are all at least t, for the greatest t. When t > 0, the
// difference 0 is a mixture of all of D's corners, which is D's inside (within
// its plane, when D is flat): -1. When t = 0, it is on D's boundary: 0.
inline int sign(const Shape& a, const Shape& b) {
  Scale scale;
  scale.include(a);
  scale.include(b);
  Mixture ma = corners(a, scale), mb = corners(b, scale);
  Program lp(CGAL::EQUAL, true, 0, false, 0);
  std::vector<WholeVec> directions;
  std::array<Whole, 5> all = {0, 0, 0, 0, 0};  // the columns' sum, for t
  int column = 0;
  for (const Mixture* m : {&ma, &mb}) {
    int side = m == &ma ? 1 : -1;
    for (size_t i = 0; i < m->vectors.size(); i++, column++) {
      const auto& v = m->vectors[i];
      bool point = i < m->summed;
      directions.push_back(point ? difference(v, m->vectors[0]) : v);
      std::array<Whole, 5> c = {v[0] * side, v[1] * side, v[2] * side, point && side > 0, point && side < 0};
      for (int k = 0; k < 5; k++) {
        lp.set_a(column, k, c[k]);
        all[k] += c[k];
      }
    }
  }
  for (int k = 0; k < 5; k++) {
    lp.set_a(column, k, all[k]);
    lp.set_b(k, k < 3 ? 0 : 1);
  }
  lp.set_c(column, -1);
  auto solution = CGAL::solve_linear_program(lp, Whole(), bland());
  if (solution.is_infeasible()) return +1;
  if (!solution.is_optimal()) throw std::runtime_error("the linear program has no optimum");
  return solution.objective_value() < 0 && hasInside(directions) ? -1 : 0;
}

#endif
