// Random surveys for networks.cpp.
#ifndef REFERENCE_NETWORKS_MAKE_H
#define REFERENCE_NETWORKS_MAKE_H

inline double micron(double v) { return std::round(v * 1000) / 1000; }

// Maker puts marks into a bay of 1200 x 800 x 600 mm and reads them.
struct Maker {
  Random& r;
  Survey s;
  double zero = 0;  // the error that all tapes share

  Limit limit() {
    static const double sizes[] = {0.79375, 1.5, 1.5875, 3};
    double v = sizes[r.pick(4)];
    return {v, v};
  }
  double off(const Limit& l) { return r.even(-l.half(), l.half()) - l.shift(); }

  int mark(const std::string& name, V3 at) {
    s.names.push_back(name + std::to_string(s.names.size() + 1));
    s.truth.push_back(at);
    return int(s.truth.size()) - 1;
  }
  // place is 80 mm or more from all marks.
  V3 place() {
    for (;;) {
      V3 p = {r.even(0, 1200), r.even(0, 800), r.even(0, 600)};
      bool free = true;
      for (auto& q : s.truth) free = free && norm(less(p, q)) > 80;
      if (free) return p;
    }
  }
  // point reads the coordinates whose bits are set, from a base or the datum.
  void point(int m, int bits, int base, Limit l) {
    Point p{m, base, {}, l};
    for (int i = 0; i < 3; i++) {
      double from = base < 0 ? 0 : s.truth[base][i];
      if (bits >> i & 1) p.at[i] = micron(s.truth[m][i] - from + off(l));
    }
    if (l.half() == 0)
      for (int i = 0; i < 3; i++)
        if (p.at[i]) s.truth[m][i] = *p.at[i];
    s.points.push_back(p);
  }
  // tape reads a distance; one in eight may have slanted.
  void tape(int from, int to) {
    Limit l = r.once(8) ? Limit{0, 3.175} : limit();
    s.tapes.push_back({from, to, micron(norm(less(s.truth[from], s.truth[to])) + zero + off(l)), l});
  }
  // tapes pulls some to a mark from others before it, none twice.
  void tapes(int m, int count) {
    std::vector<int> others(m);
    for (int i = 0; i < m; i++) others[i] = i;
    for (int i = 0; i < count && !others.empty(); i++) {
      int k = r.pick(int(others.size()));
      if (r.once(2)) tape(others[k], m);
      else tape(m, others[k]);
      others.erase(others.begin() + k);
    }
    if (r.once(4)) {  // one again
      Tape t = s.tapes.back();
      tape(t.to, t.from);
    }
  }
  // depth makes a mark by straightedge and probe, from marks before it.
  int depth() {
    for (;;) {
      int from = r.pick(int(s.truth.size())), to = r.pick(int(s.truth.size()));
      V3 e = less(s.truth[to], s.truth[from]), toward = {0, 0, 0};
      double length = norm(e);
      if (length < 250) continue;
      e = times(e, 1 / length);
      toward[r.pick(3)] = r.once(2) ? 1 : -1;
      if (r.once(4)) toward = {0.6, 0, 0.8};
      V3 t = s.framed ? frame(s.truth[0], s.truth[1], s.truth[2]).back(toward) : toward;
      V3 n = less(t, times(e, dot(t, e)));
      if (norm(n) < 0.6) continue;
      n = times(n, 1 / norm(n));
      Limit l = limit();
      double along = micron(r.even(-20, length)), probe = micron(r.even(40, 250)), side = off(l) + l.shift();
      V3 p = s.truth[from], w = cross(e, n);
      double a = along + off(l) + l.shift(), b = probe - off(l);
      for (int i = 0; i < 3; i++) p[i] += e[i] * a + n[i] * b + w[i] * side;
      int m = mark("P", p);
      s.depths.push_back({m, from, to, along, probe, toward, l});
      return m;
    }
  }
};

// known are marks with coordinates that tapes are pulled from: exact ones, ones
// with limits, and ones from another.
inline void known(Maker& k, int i, int count) {
  static const V3 spread[4] = {{0, 0, 0}, {1200, 0, 20}, {600, 800, 0}, {500, 300, 600}};
  for (int j = 0; j < count; j++) {
    int m = k.mark("K", j < 4 ? spread[j] : k.place());
    bool exact = i % 2 == 1 && k.r.once(2);
    int base = i % 4 == 2 && j > 3 ? k.r.pick(j) : -1;
    k.point(m, 7, base, exact ? Limit{} : k.limit());
    if (k.r.once(3)) k.point(m, k.r.pick(7) + 1, -1, k.limit());  // again, in part
    if (j > 0 && k.r.once(2)) k.tape(m, k.r.pick(j));
  }
}

// alone are marks by coordinates alone, that no tape touches.
inline void alone(Maker& k) {
  int m = k.mark("L", k.place());
  k.point(m, 7, -1, k.limit());
  k.point(m, 5, -1, Limit{0, 3});
  int n = k.mark("L", k.place());
  k.point(n, 7, m, k.limit());
  k.point(n, 7, m, k.limit());
}

// make is survey i: each fifth of tapes alone, in a frame by its marks, and each
// fifth of coordinates in axes of their own, moved into such a frame. All but
// one of the first have depths.
inline Survey make(Random& r, int i) {
  Maker k{r, {}};
  if (i % 3 == 0) k.s.tapeClass = i % 2 ? "I" : "II";
  if (i % 4 == 2) {
    k.s.zero = 0.79375;
    k.zero = r.even(-k.s.zero, k.s.zero);
  }
  k.s.held = i % 5 == 4;
  k.s.framed = i % 5 >= 3;
  int marks = 6 + (24 * (7 * i % 20) + 10) / 19;  // 6 to 30
  int probed = i == 4 ? 0 : std::max(1, marks / 6);
  int beside = i % 3 == 1 && !k.s.held && marks > 9 ? 2 : 0;
  if (k.s.held) {
    V3 first[4] = {{0, 0, 0}, {r.even(900, 1200), 0, 0}, {r.even(300, 800), r.even(500, 800), 0}, {r.even(200, 900), r.even(100, 500), r.even(350, 600)}};
    for (int j = 0; j < 4; j++) {
      int m = k.mark("F", first[j]);
      for (int l = 0; l < m; l++) k.tape(l, m);
    }
  } else {
    known(k, i, std::max(4, std::min(8, marks / 3)));
  }
  while (int(k.s.truth.size()) < marks - probed - beside) {
    int m = k.mark("T", k.place());
    int bits = k.s.held || !r.once(4) ? 0 : 1 << r.pick(3);
    if (bits) k.point(m, bits, -1, i % 2 == 1 && r.once(2) ? Limit{} : k.limit());
    k.tapes(m, 5 + r.pick(4));
  }
  for (int j = 0; j < probed; j++) {
    int m = k.depth();
    k.tapes(m, r.pick(5));
  }
  if (beside) alone(k);
  return k.s;
}

#endif
