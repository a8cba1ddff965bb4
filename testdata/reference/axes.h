// The sign of the distance between two planar convex shapes, by separating
// axes, in a number type of the caller's choice. With whole numbers of any
// length (mpz_class) every step is exact.
//
// D = A - B is the set of all differences. The sign is -1 when 0 is inside D
// (inner points: no plane parts the shapes, not even one that touches both),
// 0 when 0 is on D's boundary (they touch), +1 when 0 is outside. When A is a
// solid, -1 says that B meets A's open inside. Two flat shapes in one plane, or
// parallel ones, can touch but not overlap.
//
// D's facets stand square to a facet of A, to a facet of B, or to an edge of
// each. All of these directions are tried, and some that belong to no facet
// (lines between any two points): they cannot change the answer.
#ifndef REFERENCE_AXES_H
#define REFERENCE_AXES_H

#include <cmath>
#include <cstdint>
#include <gmpxx.h>
#include "pair.h"

template <class T> using Vec = std::array<T, 3>;

template <class T> Vec<T> minus(const Vec<T>& a, const Vec<T>& b) {
  return {T(a[0] - b[0]), T(a[1] - b[1]), T(a[2] - b[2])};
}
template <class T> Vec<T> plus(const Vec<T>& a, const Vec<T>& b) {
  return {T(a[0] + b[0]), T(a[1] + b[1]), T(a[2] + b[2])};
}
template <class T> Vec<T> cross(const Vec<T>& a, const Vec<T>& b) {
  return {T(a[1] * b[2] - a[2] * b[1]), T(a[2] * b[0] - a[0] * b[2]), T(a[0] * b[1] - a[1] * b[0])};
}
template <class T> T dot(const Vec<T>& a, const Vec<T>& b) {
  return T(a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
}
template <class T> bool zero(const Vec<T>& a) { return a[0] == 0 && a[1] == 0 && a[2] == 0; }

inline double real(const mpz_class& v, long exponent) {
  long e;
  double d = mpz_get_d_2exp(&e, v.get_mpz_t());
  return std::ldexp(d, int(e + exponent));
}
inline double real(double v, long) { return v; }

// Planar is a shape as its vertices, the directions of its edges and the
// normals of its facets, among others.
template <class T> struct Planar {
  std::vector<Vec<T>> vertices, edges, normals;
  Vec<T> behind;
};

// Scale turns the float64 numbers of one pair into whole numbers: all are
// multiples of 2^exponent.
struct Scale {
  long exponent = 1 << 20;
  void include(const Shape& s) {
    for (const V3& v : s.p) include(v);
    include(s.behind);
  }
  void include(const V3& v) {
    for (double c : v) {
      if (c == 0) continue;
      int e;
      auto m = int64_t(std::ldexp(std::frexp(c, &e), 53));
      exponent = std::min(exponent, long(e) - 53 + __builtin_ctzll(uint64_t(m)));
    }
  }
  mpz_class whole(double c) const {
    int e;
    double m = std::frexp(c, &e);
    if (m == 0) return 0;
    mpz_class out(std::ldexp(m, 53));  // whole, exactly
    long shift = e - 53 - exponent;
    if (shift >= 0) return out << shift;
    return out >> -shift;  // drops zero bits only
  }
};

template <class T> T number(double c, const Scale& s);
template <> inline mpz_class number(double c, const Scale& s) { return s.whole(c); }
template <> inline double number(double c, const Scale&) { return c; }

template <class T> Vec<T> numbers(const V3& v, const Scale& s) {
  return {number<T>(v[0], s), number<T>(v[1], s), number<T>(v[2], s)};
}

template <class T> void spanBox(Planar<T>& out, const std::vector<Vec<T>>& p) {
  for (int i = 0; i < 8; i++) {
    Vec<T> v = p[0];
    for (int k = 0; k < 3; k++)
      if (i >> k & 1) v = plus(v, p[k + 1]);
    out.vertices.push_back(v);
  }
  for (int k = 0; k < 3; k++) {
    out.edges.push_back(p[k + 1]);
    out.normals.push_back(cross(p[(k + 1) % 3 + 1], p[(k + 2) % 3 + 1]));
  }
}

template <class T> void spanHull(Planar<T>& out, const std::vector<Vec<T>>& p) {
  out.vertices = p;
  bool endless = !zero(out.behind);
  for (size_t i = 0; i < p.size(); i++)
    for (size_t j = i + 1; j < p.size(); j++) {
      Vec<T> u = minus(p[j], p[i]);
      out.edges.push_back(u);
      if (endless) out.normals.push_back(cross(u, out.behind));
      for (size_t k = j + 1; k < p.size(); k++) out.normals.push_back(cross(u, minus(p[k], p[i])));
    }
  if (endless) out.edges.push_back(out.behind);
}

template <class T> Planar<T> planar(const Shape& s, const Scale& scale) {
  Planar<T> out;
  std::vector<Vec<T>> p;
  for (const V3& v : s.p) p.push_back(numbers<T>(v, scale));
  out.behind = numbers<T>(s.behind, scale);
  if (s.kind == Shape::box) spanBox(out, p);
  else spanHull(out, p);
  return out;
}

// Answer is a sign and, for -1, the depth: the least move that parts the
// shapes (+Inf when none does). It is rounded once or twice; the sign is not.
struct Answer {
  int sign = -1;
  double depth = INFINITY;
};

template <class T> class Axes {
 public:
  Axes(const Shape& sa, const Shape& sb) {
    scale_.include(sa);
    scale_.include(sb);
    a_ = planar<T>(sa, scale_);
    b_ = planar<T>(sb, scale_);
  }

  Answer answer() {
    if (!solid()) {
      tryFlat();
      return {apart_ ? +1 : 0, 0};
    }
    for (const auto& n : a_.normals) if (!apart_) tryBoth(n);
    for (const auto& n : b_.normals) if (!apart_) tryBoth(n);
    for (const auto& u : a_.edges)
      for (const auto& v : b_.edges)
        if (!apart_) tryBoth(cross(u, v));
    if (apart_) return {+1, 0};
    if (touch_) return {0, 0};
    return {-1, depth_};
  }

 private:
  // solid: whether D has an inside. When not, it keeps D's first two
  // directions for tryFlat.
  bool solid() {
    std::vector<Vec<T>> all = a_.edges;
    all.insert(all.end(), b_.edges.begin(), b_.edges.end());
    Vec<T> none{T(0), T(0), T(0)};
    u_ = n_ = none;
    for (const auto& w : all) {
      if (zero(u_)) u_ = w;
      else if (zero(n_)) n_ = cross(u_, w);
      else if (dot(n_, w) != 0) return true;
    }
    return false;
  }

  // tryFlat parts shapes whose D has no inside: its plane's normal and the
  // normals of its edges within the plane; for a D on one line, that line and
  // three directions square to it; for a single point, the axes.
  void tryFlat() {
    const Vec<T> unit[3] = {{T(1), T(0), T(0)}, {T(0), T(1), T(0)}, {T(0), T(0), T(1)}};
    if (zero(n_)) {
      tryBoth(u_);
      for (const auto& e : unit) tryBoth(zero(u_) ? e : cross(u_, e));
      return;
    }
    tryBoth(n_);
    for (const auto& e : a_.edges) tryBoth(cross(n_, e));
    for (const auto& e : b_.edges) tryBoth(cross(n_, e));
  }

  void tryBoth(const Vec<T>& n) {
    if (zero(n)) return;
    tryOne(n);
    if (!apart_) tryOne({T(-n[0]), T(-n[1]), T(-n[2])});
  }

  // tryOne looks along n for B wholly on A's far side.
  void tryOne(const Vec<T>& n) {
    if (dot(n, a_.behind) > 0 || dot(n, b_.behind) < 0) return;
    T far = dot(n, a_.vertices[0]), near = dot(n, b_.vertices[0]);
    for (const auto& v : a_.vertices) { T d = dot(n, v); if (d > far) far = d; }
    for (const auto& v : b_.vertices) { T d = dot(n, v); if (d < near) near = d; }
    T gap = near - far;
    if (gap > 0) apart_ = true;
    if (gap == 0) touch_ = true;
    if (gap < 0 && !touch_) deepen(n, T(-gap));
  }

  // deepen: over = length along n times |n|; n has twice a length's scale at
  // least, which cancels.
  void deepen(const Vec<T>& n, const T& over) {
    double h = std::hypot(real(n[0], -shift(n)), real(n[1], -shift(n)), real(n[2], -shift(n)));
    depth_ = std::min(depth_, real(over, scale_.exponent - shift(n)) / h);
  }

  // shift keeps the parts of n within the range of float64.
  static long shift(const Vec<mpz_class>& n) {
    long bits = 0;
    for (const auto& c : n) bits = std::max(bits, long(mpz_sizeinbase(c.get_mpz_t(), 2)));
    return bits;
  }
  static long shift(const Vec<double>&) { return 0; }

  Scale scale_;
  Planar<T> a_, b_;
  Vec<T> u_, n_;
  bool apart_ = false, touch_ = false;
  double depth_ = INFINITY;
};

#endif
