// The shapes of a pair and their one text form, which all programs here read
// and write. Lengths are millimetres.
//
//   box      <corner> <edge> <edge> <edge>      12 numbers
//   cylinder <foot> <axis> <radius>              7 numbers
//   hull     <grow> <behind> <point> ...         4 numbers and 3 a point
//
// A number is decimal (shortest that reads back to the same float64) or a
// hexadecimal float.
#ifndef REFERENCE_PAIR_H
#define REFERENCE_PAIR_H

#include <array>
#include <charconv>
#include <cstdlib>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

using V3 = std::array<double, 3>;

// Shape is one side of a pair. For a hull, p holds its points; for a box, its
// corner and three edges; for a cylinder, its foot and axis.
struct Shape {
  enum Kind { box, cylinder, hull } kind = hull;
  std::vector<V3> p;
  double radius = 0;        // a cylinder's radius, a hull's growth
  V3 behind = {0, 0, 0};    // a hull's way without end, or zero
  bool endless() const { return behind[0] != 0 || behind[1] != 0 || behind[2] != 0; }
};

inline std::vector<double> numbers(const char* s) {
  std::vector<double> out;
  for (char* end = nullptr;; s = end) {
    double v = std::strtod(s, &end);
    if (end == s) return out;
    out.push_back(v);
  }
}

inline Shape parse(const std::string& text) {
  auto gap = text.find(' ');
  std::string kind = text.substr(0, gap);
  std::vector<double> n = numbers(text.c_str() + gap);
  Shape s;
  size_t at = 0;
  auto point = [&] { at += 3; return V3{n.at(at - 3), n.at(at - 2), n.at(at - 1)}; };
  if (kind == "box") {
    s.kind = Shape::box;
  } else if (kind == "cylinder") {
    s.kind = Shape::cylinder;
    s.radius = n.at(6);
    n.resize(6);
  } else if (kind == "hull") {
    s.radius = n.at(at++);
    s.behind = point();
  } else {
    throw std::runtime_error("no such shape: " + kind);
  }
  while (at < n.size()) s.p.push_back(point());
  return s;
}

inline std::string shortest(double v) {
  char text[40];
  return std::string(text, std::to_chars(text, text + 40, v).ptr);
}

inline std::string format(const Shape& s) {
  static const char* name[] = {"box", "cylinder", "hull"};
  std::string out = name[s.kind];
  auto put = [&](double v) { out += ' ' + shortest(v); };
  auto puts = [&](const V3& v) { for (double c : v) put(c); };
  if (s.kind == Shape::hull) { put(s.radius); puts(s.behind); }
  for (const V3& v : s.p) puts(v);
  if (s.kind == Shape::cylinder) put(s.radius);
  return out;
}

inline std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> out;
  std::istringstream in(line);
  for (std::string cell; std::getline(in, cell, ',');) out.push_back(cell);
  return out;
}

#endif
