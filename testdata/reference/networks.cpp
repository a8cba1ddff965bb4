// Networks makes 20 surveys of marks by coordinates, tapes and straightedge
// depths, each reading off by chance within its limit, and has a general-purpose
// least-squares solver adjust them.
//
//   networks > networks.json
//
// Lengths are in mm. README.md says what is solved, and what the columns mean.
#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_version.h>
#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdint>
#include <cstdio>
#include <iostream>
#include <optional>
#include <random>
#include "pair.h"

// Random has its own even(), as those of the standard library differ between
// implementations.
struct Random {
  std::mt19937_64 bits;
  explicit Random(uint64_t seed) : bits(seed) {}
  double even(double from, double to) { return from + (to - from) * std::ldexp(double(bits() >> 11), -53); }
  int pick(int n) { return int(bits() % uint64_t(n)); }
  bool once(int in) { return pick(in) == 0; }
};

template <class T> using Three = std::array<T, 3>;
template <class T> Three<T> less(const Three<T>& a, const Three<T>& b) { return {a[0] - b[0], a[1] - b[1], a[2] - b[2]}; }
template <class T> Three<T> times(const Three<T>& a, T by) { return {a[0] * by, a[1] * by, a[2] * by}; }
template <class T> T dot(const Three<T>& a, const Three<T>& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
template <class T> T norm(const Three<T>& a) { return std::sqrt(dot(a, a)); }
template <class T> Three<T> cross(const Three<T>& a, const Three<T>& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

// Frame is the axes of a face of three marks: x from the first toward the
// second, z out of their plane, on the side from which they go round leftward.
template <class T> struct Frame {
  Three<T> origin, axis[3];
  Three<T> in(const Three<T>& p) const {
    Three<T> d = less(p, origin);
    return {dot(axis[0], d), dot(axis[1], d), dot(axis[2], d)};
  }
  Three<T> back(const V3& v) const {
    Three<T> out;
    for (int i = 0; i < 3; i++) out[i] = axis[0][i] * v[0] + axis[1][i] * v[1] + axis[2][i] * v[2];
    return out;
  }
};
template <class T> Frame<T> frame(const Three<T>& a, const Three<T>& b, const Three<T>& c) {
  Frame<T> f;
  f.origin = a;
  Three<T> x = less(b, a), z = cross(x, less(c, a));
  f.axis[0] = times(x, T(1) / norm(x));
  f.axis[2] = times(z, T(1) / norm(z));
  f.axis[1] = cross(f.axis[2], f.axis[0]);
  return f;
}

// Survey: what is read. A limit says how far above and below the reading the
// true value may be; its middle is the value, half its width over the root of 3
// the standard uncertainty.
struct Limit {
  double plus = 0, minus = 0;
  double half() const { return (plus + minus) / 2; }
  double shift() const { return (plus - minus) / 2; }
  double u() const { return half() / std::sqrt(3.0); }
};
struct Point { int mark, base; std::optional<double> at[3]; Limit limit; };
struct Tape { int from, to; double length; Limit limit; };
struct Depth { int mark, from, to; double along, probe; V3 toward; Limit limit; };
struct Survey {
  std::vector<std::string> names;
  std::vector<V3> truth;
  std::vector<Point> points;
  std::vector<Tape> tapes;
  std::vector<Depth> depths;
  std::string tapeClass;
  double zero = 0;    // half limit of the error that all tapes share
  bool framed = false;  // the axes are those of the first three marks
  bool held = false;    // no coordinates: those marks hold the frame's own zeros
};

#include "networks_make.h"
#include "networks_solve.h"

std::string list(const std::vector<double>& v, bool coarse = false) {
  std::string out = "[";
  for (double x : v) {
    char text[40];
    std::snprintf(text, sizeof text, "%.9g", x);
    out += (out.size() > 1 ? "," : "") + (coarse ? std::string(text) : shortest(x));
  }
  return out + "]";
}

std::string limit(const Limit& l) { return ",\"limit\":" + list({l.plus, l.minus}) + "}"; }

void print(const Survey& s, const Answer& a, bool last) {
  auto name = [&](int m) { return m < 0 ? std::string("\"\"") : "\"" + s.names[m] + "\""; };
  std::string sep;
  auto row = [&](const std::string& text) { std::cout << sep << text; sep = ",\n"; };
  auto open = [&](const char* what) { std::cout << ",\n\"" << what << "\":[\n"; sep = ""; };
  std::cout << "{\"class\":\"" << s.tapeClass << "\",\"zero\":" << shortest(s.zero) << ",\"framed\":" << (s.framed ? "true" : "false");
  open("points");
  for (auto& p : s.points) {
    std::string at;
    for (auto& c : p.at) at += (at.empty() ? "" : ",") + (c ? shortest(*c) : "null");
    row("{\"mark\":" + name(p.mark) + ",\"base\":" + name(p.base) + ",\"at\":[" + at + "]" + limit(p.limit));
  }
  std::cout << "]";
  open("tapes");
  for (auto& t : s.tapes) row("{\"from\":" + name(t.from) + ",\"to\":" + name(t.to) + ",\"length\":" + shortest(t.length) + limit(t.limit));
  std::cout << "]";
  open("depths");
  for (auto& d : s.depths)
    row("{\"mark\":" + name(d.mark) + ",\"from\":" + name(d.from) + ",\"to\":" + name(d.to) + ",\"along\":" + shortest(d.along) +
        ",\"probe\":" + shortest(d.probe) + ",\"toward\":" + list({d.toward[0], d.toward[1], d.toward[2]}) + limit(d.limit));
  std::cout << "]";
  open("answers");
  for (size_t m = 0; m < s.names.size(); m++) {
    std::vector<double> own, next;
    for (int i = 0; i < 3; i++)
      for (int j = 0; j < 3; j++) {
        own.push_back(a.covariance(3 * m + i, 3 * m + j));
        if (m + 1 < s.names.size()) next.push_back(a.covariance(3 * m + i, 3 * m + 3 + j));
      }
    row("{\"mark\":" + name(m) + ",\"at\":" + list({a.x.begin() + 3 * m, a.x.begin() + 3 * m + 3}) + ",\"own\":" + list(own, true) + ",\"next\":" + list(next, true) + "}");
  }
  std::cout << "],\n\"sum\":" << shortest(a.sum) << ",\"freedom\":" << a.freedom << "}" << (last ? "\n" : ",\n");
}

int main() {
  gsl_set_error_handler_off();
  const int count = 20;
  std::cout << "{\"program\":\"GNU Scientific Library " << gsl_version << ", gsl_multifit_nlinear\",\"networks\":[\n";
  for (int i = 0; i < count; i++) {
    Random random(uint64_t(i + 1));
    Survey s = make(random, i);
    Answer a = solve(s, random);
    std::fprintf(stderr, "%2d: %2zu marks, %3zu tapes, %zu depths, freedom %3d, sum %7.2f, worst u %.2f mm, polished by %.1e mm, starts differ by %.1e mm, other minima %d, gradient %.1e\n", i,
                 s.names.size(), s.tapes.size(), s.depths.size(), a.freedom, a.sum, a.worstU, a.polished, a.starts, a.others, a.gradient);
    print(s, a, i == count - 1);
  }
  std::cout << "]}\n";
}
