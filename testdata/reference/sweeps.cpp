// Sweeps makes scenes of a thing that stands still and one that moves, and prints the table of
// their least distances over the motion.
//
//   sweeps > sweeps.csv
//
// Columns: family,a,b,joints,least. a stands still, b moves through the joints: "turn" with two
// places of the axis and a range in radians, "slide" with a direction and a range in mm, the
// innermost first. least is the collision library's least distance over all positions sampled, or -
// where it says overlap at one of them.
#include <algorithm>
#include <cstdio>
#include <iostream>
#include <limits>
#include "sweeps_make.h"

using namespace sweeps;

// Scene asks the collision library (libccd, tight tolerances) for distances at positions.
struct Scene {
  const Shape& a;
  const Shape& b;
  const std::vector<Joint>& joints;
  std::optional<fcl::Convexd> solid;
  long asked = 0;

  Scene(const Shape& a_, const Shape& b_, const std::vector<Joint>& j_) : a(a_), b(b_), joints(j_) {
    if (b.p.size() > 3) solid.emplace(collide::convex(b.p));
  }
  template <class Fixed>
  Found against(const fcl::detail::GJKSolver_libccd<double>& s, const Fixed& f, const fcl::Transform3d& tf, const fcl::Transform3d& t) {
    if (solid) return collide::between(s, f, tf, *solid, t);
    Shape moved = b;
    for (V3& p : moved.p) {
      collide::Vec m = t * collide::vec(p);
      p = {m[0], m[1], m[2]};
    }
    return collide::against(s, f, tf, moved);
  }
  // distance is below zero where they overlap.
  double distance(const std::vector<double>& positions) {
    asked++;
    fcl::detail::GJKSolver_libccd<double> s;
    s.distance_tolerance = s.collision_tolerance = 1e-14;
    s.max_distance_iterations = 10000;
    fcl::Transform3d t = pose(joints, positions);
    collide::Vec first = collide::vec(a.p[0]), second = collide::vec(a.p[1]);
    Found f;
    if (a.kind == Shape::cylinder) {
      fcl::Cylinderd c(a.radius, second.norm());
      f = against(s, c, collide::place(first + second / 2, collide::alongZ(second)), t);
    } else {
      collide::Vec v = collide::vec(a.p[2]), w = collide::vec(a.p[3]);
      fcl::Matrix3d axes;
      axes << second.normalized(), v.normalized(), w.normalized();
      f = against(s, fcl::Boxd(second.norm(), v.norm(), w.norm()), collide::place(first + (second + v + w) / 2, axes), t);
    }
    return f ? f->distance : -1;
  }
};

struct Sample {
  double least;
  std::vector<double> at;
};

// grid samples a box of positions, steps + 1 along each joint; of an overlap that sample alone.
static std::vector<Sample> grid(Scene& s, const std::vector<double>& from, const std::vector<double>& to, int steps) {
  std::vector<Sample> out;
  std::vector<int> k(from.size(), 0);
  for (;;) {
    std::vector<double> at;
    for (size_t i = 0; i < k.size(); i++) at.push_back(from[i] + (to[i] - from[i]) * k[i] / steps);
    out.push_back({s.distance(at), at});
    if (out.back().least < 0) return {out.back()};
    size_t i = 0;
    while (i < k.size() && ++k[i] > steps) k[i++] = 0;
    if (i == k.size()) return out;
  }
}

// least samples the whole motion densely, and then around each of the best samples: on a grid
// that goes where it is nearer, and is made finer where none of it is, down to 1e-12 of the range.
static double least(Scene& s, int steps) {
  std::vector<double> from, to;
  for (const Joint& j : s.joints) from.push_back(j.from), to.push_back(j.to);
  auto all = grid(s, from, to, steps);
  size_t best = std::min<size_t>(12, all.size());
  std::partial_sort(all.begin(), all.begin() + long(best), all.end(), [](auto& x, auto& y) { return x.least < y.least; });
  double found = all[0].least;
  for (size_t n = 0; n < best && found > 0; n++) {
    Sample around = all[n];
    for (double width = 1.0 / steps; width > 1e-12 && found > 0;) {
      std::vector<double> lo, hi;
      for (size_t i = 0; i < from.size(); i++) {
        double w = (to[i] - from[i]) * width;
        lo.push_back(std::max(from[i], around.at[i] - w)), hi.push_back(std::min(to[i], around.at[i] + w));
      }
      double before = around.least;
      for (Sample& x : grid(s, lo, hi, 4)) if (x.least < around.least) around = x;
      if (!(around.least < before - 1e-9)) width /= 2;
      found = std::min(found, around.least);
    }
  }
  return found;
}

int main() {
  make::Random random(5);
  static const char* others[] = {"capsule", "triangle", "hull"};
  static const char* kinds[] = {"slide", "rock", "lid", "lever", "wheel"};
  std::cout << "family,a,b,joints,least\n";
  int apart = 0, overlap = 0;
  long asked = 0;
  while (apart + overlap < 200) {
    int n = apart + overlap;
    make::Solid s = make::solid(random, n % 2 == 1);
    Shape b = make::hull(random, s, n % 3);
    int first = random.pick(5), second = n % 4 == 3 ? random.pick(3) : -1;
    std::vector<Joint> joints = {joint(random, s, first)};
    if (second >= 0) joints.push_back(joint(random, s, second));
    Scene scene(s.shape, b, joints);
    double d = least(scene, second < 0 ? 4000 : 120);
    if (d <= 0 && overlap >= 40) continue;  // most that come up overlap somewhere: a fifth will do
    (d > 0 ? apart : overlap)++;
    asked += scene.asked;
    std::cout << s.kind << ' ' << others[n % 3] << ' ' << kinds[first];
    if (second >= 0) std::cout << " on " << kinds[second];
    std::cout << ',' << format(s.shape) << ',' << format(b) << ',' << sweeps::format(joints) << ',' << (d > 0 ? shortest(d) : "-") << '\n';
  }
  std::fprintf(stderr, "%d scenes apart, %d overlap; %ld distances\n", apart, overlap, asked);
}
