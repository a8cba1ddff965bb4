// Two-sided bounds of the signed distance of a box or cylinder from a hull, by
// exact programs over planar bodies.
//
// A prism whose corners are on the cylinder's rims is inside it; one whose
// sides touch the cylinder along lines at the same angles is around it. The
// distances of the two bound that of the cylinder. Angles are laid closer and
// closer about the nearest places until the bounds meet. The prisms' corners
// are rounded to 2^-38 mm, which moves the bounds by up to 4e-12 mm.
#ifndef REFERENCE_BOUNDS_H
#define REFERENCE_BOUNDS_H

#include <algorithm>
#include "program.h"

namespace bounds {

inline V3 add(const V3& a, const V3& b) { return plus<double>(a, b); }
inline V3 times(const V3& a, double f) { return {a[0] * f, a[1] * f, a[2] * f}; }
inline double length(const V3& a) { return std::hypot(a[0], a[1], a[2]); }

// Near is a distance with the nearest points.
struct Near {
  double distance;
  V3 onA, onB;
};

struct Bounds {
  double low, high;
  V3 normal;  // from A to B; zero for overlap
};

constexpr double full = 6.283185307179586;  // 2 pi

// Frame is a cylinder's foot, axis, and two directions across, radius long.
struct Frame {
  V3 foot, axis, x, y;

  explicit Frame(const Shape& c) : foot(c.p[0]), axis(c.p[1]) {
    int least = 0;
    for (int k = 1; k < 3; k++)
      if (std::fabs(axis[k]) < std::fabs(axis[least])) least = k;
    V3 e = {0, 0, 0};
    e[least] = 1;
    x = cross<double>(axis, e);
    x = times(x, c.radius / length(x));
    y = times(cross<double>(axis, x), 1 / length(axis));
  }
  V3 rim(double angle, double out) const {
    return rounded(add(foot, add(times(x, out * std::cos(angle)), times(y, out * std::sin(angle)))));
  }
  static V3 rounded(V3 v) {
    for (double& c : v) c = std::ldexp(std::round(std::ldexp(c, 38)), -38);
    return v;
  }
  double angle(const V3& p) const {
    V3 d = minus<double>(p, foot);
    return std::atan2(dot<double>(d, y), dot<double>(d, x));
  }
  Shape prism(const std::vector<double>& angles, bool around) const {
    Shape s;
    for (size_t i = 0; i < angles.size(); i++) {
      double next = i + 1 < angles.size() ? angles[i + 1] : angles[0] + full;
      double half = around ? (next - angles[i]) / 2 : 0;
      V3 v = rim(angles[i] + half, 1 / std::cos(half));
      s.p.push_back(v);
      s.p.push_back(rounded(add(v, axis)));
    }
    return s;
  }
};

// angles are twelve all around, and a fan about each of the given places, each
// a fourth as far out as the one before.
inline std::vector<double> angles(const std::vector<double>& about) {
  std::vector<double> out;
  for (int i = 0; i < 12; i++) out.push_back(full * i / 12);
  for (double a : about) {
    out.push_back(a);
    for (int k = 0; k < 24; k += 2)
      for (int side : {-1, 1}) out.push_back(a + side * 0.2 * std::ldexp(1, -k));
  }
  for (double& a : out) a -= full * std::floor(a / full);
  std::sort(out.begin(), out.end());
  auto same = [](double a, double b) { return b - a < 1e-9; };
  out.erase(std::unique(out.begin(), out.end(), same), out.end());
  return out;
}

inline Near nearest(const Shape& a, const Shape& b) {
  std::vector<V3> where;
  Near n;
  n.distance = distance(a, b, &where);
  n.onA = where[0];
  n.onB = where[1];
  return n;
}

// cores bounds the distance of the shapes without the hull's growth, to 1e-10 mm
// if it can; a bound of 0 says that the cores meet. Guess is about where on A
// the nearest point is: it saves time, no more.
inline Bounds cores(const Shape& a, const Shape& b, const std::vector<V3>& guess) {
  if (a.kind == Shape::box) {
    Near n = nearest(a, b);
    return {n.distance, n.distance, minus<double>(n.onB, n.onA)};
  }
  Frame frame(a);
  Bounds best = {0, INFINITY, {0, 0, 0}};
  std::vector<double> about;
  for (const V3& p : guess) about.push_back(frame.angle(p));
  for (int round = 0; round < 8 && best.high - best.low > 1e-10; round++) {
    auto all = angles(about);
    Near in = nearest(frame.prism(all, false), b), out = nearest(frame.prism(all, true), b);
    best.low = std::max(best.low, out.distance);
    best.high = std::min(best.high, in.distance);
    best.normal = minus<double>(in.onB, in.onA);
    about = {frame.angle(in.onA), frame.angle(in.onB), frame.angle(out.onA)};
  }
  return best;
}

}  // namespace bounds

#endif
