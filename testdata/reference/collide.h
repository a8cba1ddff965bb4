// The collision library's (FCL) answers for one pair: its own solver and the
// one that rests on libccd, both in float64 with tight tolerances.
#ifndef REFERENCE_COLLIDE_H
#define REFERENCE_COLLIDE_H

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/convex_hull_3.h>
#include <fcl/fcl.h>
#include <optional>
#include "pair.h"

// Found is a solver's answer; none when it says overlap.
struct Nearby {
  double distance;
  V3 onA;
};
using Found = std::optional<Nearby>;

namespace collide {

using Vec = fcl::Vector3d;
inline Vec vec(const V3& v) { return {v[0], v[1], v[2]}; }

// place sets a frame with its middle and its x, y, z along the given columns.
inline fcl::Transform3d place(const Vec& middle, const fcl::Matrix3d& axes) {
  fcl::Transform3d t = fcl::Transform3d::Identity();
  t.translation() = middle;
  t.linear() = axes;
  return t;
}

// alongZ is a rotation that takes z to the given direction.
inline fcl::Matrix3d alongZ(const Vec& to) {
  return fcl::Quaterniond::FromTwoVectors(Vec::UnitZ(), to).toRotationMatrix();
}

inline fcl::Convexd convex(const std::vector<V3>& points) {
  using K = CGAL::Exact_predicates_inexact_constructions_kernel;
  std::vector<K::Point_3> in;
  for (const V3& p : points) in.emplace_back(p[0], p[1], p[2]);
  CGAL::Surface_mesh<K::Point_3> mesh;
  CGAL::convex_hull_3(in.begin(), in.end(), mesh);
  auto vertices = std::make_shared<std::vector<Vec>>();
  auto faces = std::make_shared<std::vector<int>>();
  for (auto v : mesh.vertices()) {
    const auto& p = mesh.point(v);
    vertices->emplace_back(p.x(), p.y(), p.z());
  }
  for (auto f : mesh.faces()) {
    faces->push_back(3);
    for (auto v : vertices_around_face(mesh.halfedge(f), mesh)) faces->push_back(int(v));
  }
  return fcl::Convexd(vertices, int(mesh.number_of_faces()), faces);
}

template <class Solver, class A, class B>
Found between(const Solver& solver, const A& a, const fcl::Transform3d& ta, const B& b, const fcl::Transform3d& tb) {
  double d = -1;
  Vec onA, onB;
  if (!solver.shapeDistance(a, ta, b, tb, &d, &onA, &onB)) return {};
  return Nearby{d, {onA[0], onA[1], onA[2]}};
}

// against asks for the distance to a hull: two points are a capsule, three a
// triangle, more a convex solid.
template <class Solver, class A>
Found against(const Solver& solver, const A& a, const fcl::Transform3d& ta, const Shape& hull) {
  const auto& p = hull.p;
  if (p.size() == 2) {
    Vec from = vec(p[0]), to = vec(p[1]);
    fcl::Capsuled capsule(hull.radius, (to - from).norm());
    return between(solver, a, ta, capsule, place((from + to) / 2, alongZ(to - from)));
  }
  if (p.size() == 3) {
    double d = -1;
    Vec onA, onB;
    if (!solver.shapeTriangleDistance(a, ta, vec(p[0]), vec(p[1]), vec(p[2]), &d, &onA, &onB)) return {};
    return Nearby{d, {onA[0], onA[1], onA[2]}};
  }
  return between(solver, a, ta, convex(p), fcl::Transform3d(fcl::Transform3d::Identity()));
}

template <class Solver> Found ask(const Solver& solver, const Shape& a, const Shape& hull) {
  Vec first = vec(a.p[0]), second = vec(a.p[1]);
  if (a.kind == Shape::cylinder) {
    fcl::Cylinderd c(a.radius, second.norm());
    return against(solver, c, place(first + second / 2, alongZ(second)), hull);
  }
  Vec u = second, v = vec(a.p[2]), w = vec(a.p[3]);
  fcl::Matrix3d axes;
  axes << u.normalized(), v.normalized(), w.normalized();
  fcl::Boxd box(u.norm(), v.norm(), w.norm());
  return against(solver, box, place(first + (u + v + w) / 2, axes), hull);
}

inline Found own(const Shape& a, const Shape& hull) {
  fcl::detail::GJKSolver_indep<double> s;
  s.gjk_tolerance = 1e-15;
  s.gjk_max_iterations = 2000;
  return ask(s, a, hull);
}

inline Found ccd(const Shape& a, const Shape& hull) {
  fcl::detail::GJKSolver_libccd<double> s;
  s.distance_tolerance = 1e-14;
  s.collision_tolerance = 1e-14;
  s.max_distance_iterations = 10000;
  return ask(s, a, hull);
}

// guess is libccd's nearest point on A, or nothing.
inline std::vector<V3> guess(const Shape& a, const Shape& hull) {
  Found f = ccd(a, hull);
  if (!f) return {};
  return {f->onA};
}

}  // namespace collide

#endif
