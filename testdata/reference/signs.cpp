// Signs answers pairs of planar shapes (boxes and hulls that are not grown)
// with the exact sign of their distance.
//
//   signs < pairs > answers
//
// A line in: family,shape,shape. A line out: sign,depth,plain where sign is -1
// (overlap), 0 (touch) or +1 (apart), depth the least move that parts them, and
// plain the sign that the same steps give in float64.
#include <cstdio>
#include <iostream>
#include "axes.h"

int main() {
  std::ios::sync_with_stdio(false);
  for (std::string line; std::getline(std::cin, line);) {
    auto cell = cells(line);
    Shape a = parse(cell.at(1)), b = parse(cell.at(2));
    Answer exact = Axes<mpz_class>(a, b).answer();
    int plain = Axes<double>(a, b).answer().sign;
    std::printf("%d,%.17g,%d\n", exact.sign, exact.depth, plain);
  }
}
