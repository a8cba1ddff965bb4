// Programs answers the same pairs as signs, by CGAL's exact solver.
//
//   programs < pairs > answers
//
// A line out: sign,distance: the sign by linear program, the distance (0 for an
// overlap) by quadratic program.
#include <cstdio>
#include <iostream>
#include "program.h"

int main() {
  std::ios::sync_with_stdio(false);
  for (std::string line; std::getline(std::cin, line);) {
    auto cell = cells(line);
    Shape a = parse(cell.at(1)), b = parse(cell.at(2));
    std::printf("%d,%.17g\n", sign(a, b), distance(a, b));
  }
}
