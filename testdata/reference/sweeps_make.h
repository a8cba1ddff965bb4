// Scenes for the table of sweeps, from a fixed seed: a box or cylinder that stands still, a
// capsule, triangle or solid hull, and one or two joints through which that moves.
#ifndef REFERENCE_SWEEPS_MAKE_H
#define REFERENCE_SWEEPS_MAKE_H

#include "make.h"

namespace sweeps {

// Joint is a turn about the axis from p to q (radians, right-handed) or a slide along p (mm).
struct Joint {
  bool turns = true;
  V3 p, q;
  double from = 0, to = 0;
};

inline fcl::Transform3d at(const Joint& j, double position) {
  fcl::Transform3d t = fcl::Transform3d::Identity();
  if (!j.turns) {
    t.translation() = collide::vec(j.p).normalized() * position;
    return t;
  }
  collide::Vec on = collide::vec(j.p), axis = (collide::vec(j.q) - on).normalized();
  t.linear() = Eigen::AngleAxisd(position, axis).toRotationMatrix();
  t.translation() = on - t.linear() * on;
  return t;
}

// pose is where the joints take what moves; the first is the innermost.
inline fcl::Transform3d pose(const std::vector<Joint>& joints, const std::vector<double>& positions) {
  fcl::Transform3d t = fcl::Transform3d::Identity();
  for (size_t i = 0; i < joints.size(); i++) t = at(joints[i], positions[i]) * t;
  return t;
}

inline std::string format(const std::vector<Joint>& joints) {
  std::string out;
  for (const Joint& j : joints) {
    if (!out.empty()) out += "; ";
    out += j.turns ? "turn" : "slide";
    for (double c : j.p) out += ' ' + shortest(c);
    if (j.turns) for (double c : j.q) out += ' ' + shortest(c);
    out += ' ' + shortest(j.from) + ' ' + shortest(j.to);
  }
  return out;
}

inline double micron(double v) { return std::round(v * 1e6) / 1e6; }

// joint is one of the kinds slide, rock (a few degrees), lid (up to a quarter turn one way), lever
// (more than half a turn) and wheel (all the way round).
inline Joint joint(make::Random& r, const make::Solid& s, int kind) {
  Joint j;
  if (kind == 0) {
    j.turns = false;
    j.p = make::micron(r.direction());
    j.from = micron(-r.even(0, 100)), j.to = micron(r.even(0, 300));
    return j;
  }
  j.p = make::micron(make::add(s.middle, make::times(r.direction(), r.even(0, 400))));
  j.q = make::micron(make::add(j.p, make::times(r.direction(), r.even(50, 500))));
  const double degree = bounds::full / 360;
  if (kind == 1) j.from = -r.even(1, 8) * degree, j.to = r.even(1, 8) * degree;
  if (kind == 2) j.from = -r.even(20, 90) * degree, j.to = 0;
  if (kind == 3) j.from = -r.even(20, 120) * degree, j.to = r.even(160, 220) * degree;
  if (kind == 4) j.from = 0, j.to = bounds::full + 0.1;
  j.from = micron(j.from), j.to = micron(j.to);
  return j;
}

}  // namespace sweeps

#endif
