// The depth of an overlap: exact by axes.h between planar shapes; of a cylinder
// and a hull, a value that the true depth does not exceed: the least move along
// any of some thousand directions, the best of them improved. The directions
// are those in which the facets and curved sides of A - B look.
#ifndef REFERENCE_DEPTH_H
#define REFERENCE_DEPTH_H

#include "axes.h"
#include "bounds.h"

namespace depth {

using bounds::Frame;
using bounds::length;
using bounds::times;

// along is how far B must move along n to leave the cylinder.
inline double along(const Frame& f, const Shape& hull, V3 n) {
  double l = length(n);
  if (l == 0) return INFINITY;
  n = times(n, 1 / l);
  double across = std::hypot(dot<double>(n, f.x), dot<double>(n, f.y));
  double far = dot<double>(n, f.foot) + across + std::max(0.0, dot<double>(n, f.axis));
  double near = INFINITY;
  for (const V3& p : hull.p) near = std::min(near, dot<double>(n, p));
  return far - near + hull.radius;
}

inline double cylinder(const Shape& a, const Shape& hull) {
  Frame f(a);
  Scale none;
  auto b = planar<double>(hull, none);
  double best = INFINITY;
  auto look = [&](const V3& n) { best = std::min({best, along(f, hull, n), along(f, hull, times(n, -1))}); };
  look(f.axis);
  for (const V3& n : b.normals) look(n);
  for (const V3& e : b.edges) look(cross<double>(f.axis, e));
  auto radial = [&](double t) { return bounds::add(times(f.x, std::cos(t)), times(f.y, std::sin(t))); };
  // improve looks about one angle, closer and closer.
  auto improve = [&](auto direction) {
    const int steps = 720;
    double at = 0, least = INFINITY;
    auto value = [&](double t) {
      look(direction(t));
      return std::min(along(f, hull, direction(t)), along(f, hull, times(direction(t), -1)));
    };
    for (int i = 0; i < steps; i++) {
      double t = bounds::full * i / steps, v = value(t);
      if (v < least) least = v, at = t;
    }
    for (double w = bounds::full / steps; w > 1e-12; w /= 2) {
      double l = value(at - w), r = value(at + w);
      if (l < least) least = l, at -= w;
      if (r < least) least = r, at += w;
    }
  };
  improve(radial);
  for (const V3& e : b.edges) improve([&](double t) { return cross<double>(radial(t), e); });
  return best;
}

inline double of(const Shape& a, const Shape& hull) {
  if (a.kind == Shape::cylinder) return cylinder(a, hull);
  return Axes<mpz_class>(a, hull).answer().depth + hull.radius;
}

}  // namespace depth

#endif
