// Distances makes pairs of a box or cylinder and a hull, and prints the table
// of their signed distances.
//
//   distances box > boxes.csv
//   distances cylinder > cylinders.csv
//
// Columns: family,a,b,low,high,own,ccd. low and high bound the signed distance
// from both sides by exact programs (minus the depth for an overlap; see
// README.md for an overlapping cylinder). own and ccd are the answers of the
// collision library's two solvers, where they are farther than 1e-6 mm from the
// bounds or say overlap (-) for a pair that is apart; empty where they agree.
#include <cstdio>
#include <iostream>
#include "collide.h"
#include "depth.h"
#include "make.h"

struct Tally {
  const char* name;
  int agree = 0, off = 0, wrong = 0;
  double worst = 0;

  // note is the cell for one answer.
  std::string note(const Found& found, double low, double high) {
    if (found.has_value() != (low > 0)) {
      wrong++;
      return found ? shortest(found->distance) : "-";
    }
    double by = found ? std::max({0.0, low - found->distance, found->distance - high}) : 0;
    worst = std::max(worst, by);
    if (by <= 1e-6) {
      agree++;
      return "";
    }
    off++;
    return shortest(found->distance);
  }
  void print() const {
    std::fprintf(stderr, "%s: %d agree, %d farther off than 1e-6 mm (worst %.3g), %d wrong about overlap\n", name, agree,
                 off, worst, wrong);
  }
};

// signedBounds are the two columns low and high.
bounds::Bounds signedBounds(const Shape& a, const Shape& hull) {
  auto b = bounds::cores(a, hull, collide::guess(a, hull));
  if (b.high == 0) {
    b.low = -depth::of(a, hull);
    b.high = a.kind == Shape::cylinder ? -hull.radius : b.low;
    return b;
  }
  if (b.low == 0) throw std::runtime_error("the bounds do not tell overlap from apart");
  b.low -= hull.radius;
  b.high -= hull.radius;
  return b;
}

int main(int argc, char** argv) {
  bool cylinder = argc > 1 && std::string(argv[1]) == "cylinder";
  const int pairs = 1500;
  make::Random random(cylinder ? 2 : 1);
  Tally own{"own solver"}, ccd{"libccd"};
  int overlaps = 0;
  double widest = 0;
  static const char* others[] = {"capsule", "triangle", "hull"};
  std::cout << "family,a,b,low,high,own,ccd\n";
  for (int i = 0; i < pairs; i++) {
    make::Solid s = make::solid(random, cylinder);
    Shape h = make::hull(random, s, i % 3);
    make::settle(random, s, h);
    auto b = signedBounds(s.shape, h);
    if (b.low <= 0) overlaps++;
    else widest = std::max(widest, b.high - b.low);
    std::cout << s.kind << ' ' << others[i % 3] << ',' << format(s.shape) << ',' << format(h) << ','
              << shortest(b.low) << ',' << shortest(b.high) << ',' << own.note(collide::own(s.shape, h), b.low, b.high)
              << ',' << ccd.note(collide::ccd(s.shape, h), b.low, b.high) << '\n';
  }
  std::fprintf(stderr, "%d pairs, %d overlap; apart, the bounds are at most %.3g mm wide\n", pairs, overlaps, widest);
  own.print();
  ccd.print();
}
