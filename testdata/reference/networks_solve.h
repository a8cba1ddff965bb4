// The weighted least squares of a survey, by the general-purpose solver.
#ifndef REFERENCE_NETWORKS_SOLVE_H
#define REFERENCE_NETWORKS_SOLVE_H

// Seen is one number that was read: a coordinate, a distance, one of the three
// of a depth, or the tapes' shared error, which was not read but is near zero.
struct Seen {
  enum Kind { coordinate, distance, along, probe, sideways, common } kind;
  int mark, from, to, axis;
  V3 toward;
  bool shared, framed;
  double value, u;
};

template <class T> Frame<T> frameOf(const std::vector<T>& x) {
  auto at = [&](int m) { return Three<T>{x[3 * m], x[3 * m + 1], x[3 * m + 2]}; };
  return frame(at(0), at(1), at(2));
}

// fitted is what would be read with the marks at x, and the shared error last.
template <class T> T fitted(const Seen& o, const std::vector<T>& x) {
  auto at = [&](int m) { return Three<T>{x[3 * m], x[3 * m + 1], x[3 * m + 2]}; };
  if (o.kind == Seen::common) return x.back();
  if (o.kind == Seen::coordinate) return x[3 * o.mark + o.axis] - (o.from < 0 ? T(0) : x[3 * o.from + o.axis]);
  Three<T> d = less(at(o.mark), at(o.from));
  if (o.kind == Seen::distance) return norm(d) + (o.shared ? x.back() : T(0));
  Three<T> e = less(at(o.to), at(o.from));
  e = times(e, T(1) / norm(e));
  if (o.kind == Seen::along) return dot(e, d);
  Three<T> n = {o.toward[0], o.toward[1], o.toward[2]};
  if (o.framed) n = frameOf(x).back(o.toward);
  n = less(n, times(e, dot(n, e)));
  n = times(n, T(1) / norm(n));
  return o.kind == Seen::probe ? dot(n, d) : dot(cross(e, n), d);
}

struct Problem {
  std::vector<Seen> seen;
  std::vector<double> x;     // all coordinates and the shared error
  std::vector<int> unknown;  // which of them are to be found
};

// classLimit is that of OIML R 35-1 over a length.
inline double classLimit(const std::string& c, double mm) {
  double metres = std::max(1.0, std::ceil(mm / 1000));
  return c == "I" ? 0.1 + 0.1 * metres : c == "II" ? 0.3 + 0.2 * metres : 0;
}

inline Problem pose(const Survey& s) {
  Problem p;
  size_t n = 3 * s.truth.size();
  std::vector<bool> fixed(n + 1, false);
  for (auto& t : s.truth) p.x.insert(p.x.end(), t.begin(), t.end());
  p.x.push_back(0);
  for (auto& c : s.points)  // exact ones are no unknowns
    for (int i = 0; i < 3; i++)
      if (c.at[i] && c.limit.half() == 0) {
        fixed[3 * c.mark + i] = true;
        p.x[3 * c.mark + i] = *c.at[i];
      }
  for (auto& c : s.points)
    for (int i = 0; i < 3; i++)
      if (c.at[i] && !fixed[3 * c.mark + i])
        p.seen.push_back({Seen::coordinate, c.mark, c.base, -1, i, {}, false, false, *c.at[i] + c.limit.shift(), c.limit.u()});
  for (auto& t : s.tapes) {
    double own = classLimit(s.tapeClass, t.length) / std::sqrt(3.0);
    p.seen.push_back({Seen::distance, t.to, t.from, -1, 0, {}, s.zero > 0, false, t.length + t.limit.shift(), std::hypot(t.limit.u(), own)});
  }
  for (auto& d : s.depths) {
    double value[3] = {d.along, d.probe + d.limit.shift(), 0};
    for (int i = 0; i < 3; i++)
      p.seen.push_back({Seen::Kind(Seen::along + i), d.mark, d.from, d.to, 0, d.toward, false, s.framed, value[i], d.limit.u()});
  }
  fixed[n] = s.zero == 0;
  if (s.zero > 0) p.seen.push_back({Seen::common, -1, -1, -1, 0, {}, true, false, 0, s.zero / std::sqrt(3.0)});
  if (s.held)
    for (int i : {0, 1, 2, 4, 5, 8}) fixed[i] = true;
  for (size_t i = 0; i <= n; i++)
    if (!fixed[i]) p.unknown.push_back(int(i));
  return p;
}

inline int residuals(const gsl_vector* at, void* data, gsl_vector* out) {
  auto& p = *static_cast<Problem*>(data);
  std::vector<double> x = p.x;
  for (size_t j = 0; j < p.unknown.size(); j++) x[p.unknown[j]] = gsl_vector_get(at, j);
  for (size_t i = 0; i < p.seen.size(); i++) gsl_vector_set(out, i, (fitted(p.seen[i], x) - p.seen[i].value) / p.seen[i].u);
  return GSL_SUCCESS;
}

// derivatives takes a step so small along i that its square is nothing: what it
// leaves in the imaginary part is the derivative, without a difference.
inline int derivatives(const gsl_vector* at, void* data, gsl_matrix* out) {
  auto& p = *static_cast<Problem*>(data);
  const double step = 1e-30;
  std::vector<std::complex<double>> x(p.x.begin(), p.x.end());
  for (size_t j = 0; j < p.unknown.size(); j++) x[p.unknown[j]] = gsl_vector_get(at, j);
  for (size_t j = 0; j < p.unknown.size(); j++) {
    auto& c = x[p.unknown[j]];
    double real = c.real();
    c = {real, step};
    for (size_t i = 0; i < p.seen.size(); i++) gsl_matrix_set(out, i, j, fitted(p.seen[i], x).imag() / step / p.seen[i].u);
    c = real;
  }
  return GSL_SUCCESS;
}

struct Answer {
  std::vector<double> x, cov;
  double sum = HUGE_VAL;
  int freedom = 0, others = 0;
  double worstU = 0, starts = 0, gradient = 0, polished = 0;
  double covariance(size_t i, size_t j) const { return cov[i * x.size() + j]; }
};

// polish takes undamped steps from where the solver stopped: the sum of squares
// has too few digits to tell steps under a millionth of the uncertainty apart.
inline void polish(gsl_multifit_nlinear_fdf& fdf, gsl_vector* x, gsl_vector* f, gsl_matrix* j) {
  auto* work = gsl_multifit_linear_alloc(fdf.n, fdf.p);
  gsl_vector* step = gsl_vector_alloc(fdf.p);
  gsl_matrix* unused = gsl_matrix_alloc(fdf.p, fdf.p);
  for (int k = 0; k < 8; k++) {
    double sum;
    residuals(x, fdf.params, f);
    derivatives(x, fdf.params, j);
    gsl_multifit_linear(j, f, step, unused, &sum, work);
    gsl_vector_sub(x, step);
  }
  residuals(x, fdf.params, f);
  derivatives(x, fdf.params, j);
  gsl_matrix_free(unused);
  gsl_vector_free(step);
  gsl_multifit_linear_free(work);
}

// run solves from one start.
inline Answer run(Problem& p, const std::vector<double>& start, const gsl_multifit_nlinear_trs* method) {
  gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters();
  parameters.trs = method;
  parameters.solver = gsl_multifit_nlinear_solver_qr;
  size_t m = p.seen.size(), n = p.unknown.size();
  gsl_multifit_nlinear_fdf fdf{};
  fdf.f = residuals;
  fdf.df = derivatives;
  fdf.n = m;
  fdf.p = n;
  fdf.params = &p;
  auto* w = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &parameters, m, n);
  gsl_vector* x = gsl_vector_alloc(n);
  for (size_t j = 0; j < n; j++) gsl_vector_set(x, j, start[p.unknown[j]]);
  gsl_multifit_nlinear_init(x, &fdf, w);
  int why = 0;
  // Steps under 1e-14 of each unknown; GSL_ENOPROG: no step lowers the sum.
  int status = gsl_multifit_nlinear_driver(1000, 1e-14, 0, 0, nullptr, nullptr, &why, w);
  if (status != GSL_SUCCESS && status != GSL_ENOPROG) throw std::runtime_error(gsl_strerror(status));
  gsl_vector_memcpy(x, gsl_multifit_nlinear_position(w));
  gsl_vector* f = gsl_vector_alloc(m);
  gsl_vector* g = gsl_vector_alloc(n);
  gsl_matrix* jacobian = gsl_matrix_alloc(m, n);
  gsl_matrix* c = gsl_matrix_alloc(n, n);
  polish(fdf, x, f, jacobian);
  Answer a;
  a.x = p.x;
  for (size_t j = 0; j < n; j++) {
    a.x[p.unknown[j]] = gsl_vector_get(x, j);
    a.polished = std::max(a.polished, std::abs(gsl_vector_get(x, j) - gsl_vector_get(w->x, j)));
  }
  gsl_blas_ddot(f, f, &a.sum);
  gsl_blas_dgemv(CblasTrans, 1, jacobian, f, 0, g);
  a.gradient = gsl_blas_dnrm2(g);
  a.freedom = int(m) - int(n);
  gsl_multifit_nlinear_covar(jacobian, 0, c);
  a.cov.assign(a.x.size() * a.x.size(), 0);
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < n; j++) a.cov[p.unknown[i] * a.x.size() + p.unknown[j]] = gsl_matrix_get(c, i, j);
  for (size_t i = 0; i < n; i++) a.worstU = std::max(a.worstU, std::sqrt(gsl_matrix_get(c, i, i)));
  gsl_matrix_free(c);
  gsl_matrix_free(jacobian);
  gsl_vector_free(g);
  gsl_vector_free(f);
  gsl_vector_free(x);
  gsl_multifit_nlinear_free(w);
  return a;
}

// move takes an answer into the frame: all marks, and their covariance by the
// derivatives of each number in the frame, taken as above.
inline void move(const Problem& p, Answer& a) {
  const double step = 1e-30;
  size_t n = a.x.size() - 1;  // the shared error stays
  auto moved = [&](auto x) {
    auto f = frameOf(x);
    for (size_t m = 0; m < n; m += 3) {
      auto q = f.in({x[m], x[m + 1], x[m + 2]});
      std::copy(q.begin(), q.end(), x.begin() + m);
    }
    return x;
  };
  std::vector<std::complex<double>> x(a.x.begin(), a.x.end());
  std::vector<double> g((n + 1) * (n + 1), 0), half(g), whole(g);
  for (int j : p.unknown) {
    x[j] = {a.x[j], step};
    auto q = moved(x);
    for (size_t i = 0; i <= n; i++) g[i * (n + 1) + j] = q[i].imag() / step;
    x[j] = a.x[j];
  }
  auto view = [&](std::vector<double>& v) { return gsl_matrix_view_array(v.data(), n + 1, n + 1); };
  auto vg = view(g), vc = view(a.cov), vh = view(half), vw = view(whole);
  gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, &vg.matrix, &vc.matrix, 0, &vh.matrix);
  gsl_blas_dgemm(CblasNoTrans, CblasTrans, 1, &vh.matrix, &vg.matrix, 0, &vw.matrix);
  a.cov = whole;
  a.x = moved(a.x);
}

// solve takes the least of ten starts: the true places and nine up to 40 mm off
// them, by two methods in turn.
inline Answer solve(const Survey& s, Random& r) {
  Problem p = pose(s);
  std::vector<Answer> all;
  for (int k = 0; k < 10; k++) {
    std::vector<double> start = p.x;
    for (int j : p.unknown)
      if (k > 0 && j < int(start.size()) - 1) start[j] += r.even(-40, 40);
    all.push_back(run(p, start, k % 2 ? gsl_multifit_nlinear_trs_dogleg : gsl_multifit_nlinear_trs_lm));
  }
  Answer best = *std::min_element(all.begin(), all.end(), [](auto& a, auto& b) { return a.sum < b.sum; });
  for (auto& a : all) {
    if (a.sum > best.sum + 1e-6) {
      best.others++;
      continue;
    }
    best.polished = std::max(best.polished, a.polished);
    for (size_t j = 0; j < a.x.size(); j++) best.starts = std::max(best.starts, std::abs(a.x[j] - best.x[j]));
  }
  if (s.framed) move(p, best);
  return best;
}

#endif
