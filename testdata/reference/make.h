// Pairs for the distance table, from a fixed seed: a box or cylinder, and a
// capsule, triangle or solid hull about it.
#ifndef REFERENCE_MAKE_H
#define REFERENCE_MAKE_H

#include <random>
#include "bounds.h"
#include "collide.h"

namespace make {

using bounds::add;
using bounds::length;
using bounds::times;

// Random has its own even() and normal(), as those of the standard library
// differ between implementations.
struct Random {
  std::mt19937_64 bits;
  explicit Random(uint64_t seed) : bits(seed) {}
  double even(double from, double to) { return from + (to - from) * std::ldexp(double(bits() >> 11), -53); }
  double spread(double from, double to) { return std::exp(even(std::log(from), std::log(to))); }
  int pick(int n) { return int(bits() % uint64_t(n)); }
  double normal() { return std::sqrt(-2 * std::log(1 - even(0, 1))) * std::cos(even(0, bounds::full)); }
  V3 direction() {
    V3 v = {normal(), normal(), normal()};
    return times(v, 1 / length(v));
  }
};

// micron rounds to 1e-6 mm, which keeps the table short.
inline V3 micron(V3 v) {
  for (double& c : v) c = std::round(c * 1e6) / 1e6;
  return v;
}

struct Solid {
  std::string kind;
  Shape shape;
  V3 middle;
  double reach;
};

inline double size(Random& r) { return std::round(r.spread(1, 400) * 1000) / 1000; }

inline std::array<V3, 3> axes(Random& r, bool aligned) {
  if (aligned) return {V3{1, 0, 0}, V3{0, 1, 0}, V3{0, 0, 1}};
  V3 x = r.direction(), z = cross<double>(x, r.direction());
  z = times(z, 1 / length(z));
  return {x, cross<double>(z, x), z};
}

// solid is a box or cylinder of one of the kinds plain, aligned, far (10 m from
// the origin), thin (a plate of 0.5 mm) and long (a rod or tube).
inline Solid solid(Random& r, bool cylinder) {
  static const char* names[] = {"plain", "aligned", "far", "thin", "long"};
  int kind = r.pick(5);
  Solid s;
  s.kind = names[kind];
  double sizes[3] = {size(r), size(r), size(r)};
  if (kind == 3) sizes[2] = 0.5;
  if (kind == 4) sizes[0] = sizes[1] = r.even(3, 12), sizes[2] = r.even(600, 1500);
  V3 corner = times(r.direction(), kind == 2 ? 10000 : r.even(0, 300));
  auto e = axes(r, kind == 1);
  s.shape.kind = cylinder ? Shape::cylinder : Shape::box;
  s.shape.p.push_back(micron(corner));
  if (cylinder) {
    if (kind == 1) std::swap(e[2], e[size_t(r.pick(3))]);
    s.shape.p.push_back(times(e[2], sizes[2]));
    s.shape.radius = sizes[0] / 2;
    s.middle = add(corner, times(e[2], sizes[2] / 2));
  } else {
    s.middle = corner;
    for (int k = 0; k < 3; k++) {
      s.shape.p.push_back(times(e[size_t(k)], sizes[k]));
      s.middle = add(s.middle, times(s.shape.p.back(), 0.5));
    }
  }
  s.reach = std::hypot(sizes[0], sizes[1], sizes[2]) / 2;
  return s;
}

// hull is a capsule (2 points), triangle (3) or solid hull (4 to 20) about the
// solid.
inline Shape hull(Random& r, const Solid& s, int kind) {
  Shape h;
  V3 at = add(s.middle, times(r.direction(), r.even(0, 1.5) * s.reach));
  double big = r.spread(2, 300);
  int n = kind == 0 ? 2 : kind == 1 ? 3 : 4 + r.pick(17);
  for (int i = 0; i < n; i++) h.p.push_back(micron(add(at, times(r.direction(), big * r.even(0.5, 1)))));
  if (kind == 0) h.radius = std::round(r.spread(0.5, 40) * 1000) / 1000;
  return h;
}

// settle moves the hull along the normal to a wished gap: three of four from
// 1e-3 to 500 mm, one of four an overlap of 1e-3 to 20 mm. A third of the pairs
// stays as it fell.
inline void settle(Random& r, const Solid& s, Shape& h) {
  bool stays = r.pick(3) == 0, overlaps = r.pick(4) == 0;
  double gap = overlaps ? -r.spread(1e-3, 20) : r.spread(1e-3, 500);
  if (stays) return;
  auto b = bounds::cores(s.shape, h, collide::guess(s.shape, h));
  double l = length(b.normal);
  if (l == 0) {
    b.normal = minus<double>(h.p[0], s.middle);
    l = length(b.normal);
    b.low = -s.reach * r.even(0.5, 1.5);
  }
  for (V3& p : h.p) p = micron(add(p, times(b.normal, (gap + h.radius - b.low) / l)));
}

}  // namespace make

#endif
