package solid

import (
	"fmt"
	"strings"
)

// names complains of what has no name, and of two of one name: reports tell parts
// apart by their names, and hoses fittings.
func (b *builder) names() {
	parts := register{b, "part", map[string]bool{"body": true}}
	fittings := register{b, "fitting", map[string]bool{}}
	for i, k := range b.tank.Brackets {
		parts.add(fmt.Sprintf("brackets[%d].name", i), "", k.Name)
	}
	for i, f := range b.tank.Fittings {
		key := fmt.Sprintf("fittings[%d]", i)
		if !fittings.add(key+".name", "", f.Name) {
			continue // its parts would clash for the same reason
		}
		for j, e := range f.Stack {
			parts.add(fmt.Sprintf("%s.stack[%d].name", key, j), f.Name, e.Name)
		}
		for j, k := range f.KeepOpen {
			parts.add(fmt.Sprintf("%s.keep_open[%d].name", key, j), f.Name, k.Name)
		}
	}
}

// register is the names of one kind of thing.
type register struct {
	*builder
	what  string
	taken map[string]bool
}

// add says whether a name is one, and the first of its kind; owner is the fitting
// of a part.
func (r register) add(key, owner, name string) bool {
	if strings.TrimSpace(name) == "" {
		r.complain(key, "a "+r.what+" has no name", "write one")
		return false
	}
	if owner != "" {
		name = owner + " " + name
	}
	if r.taken[name] {
		r.complain(key, "two "+r.what+"s are called "+escaped(name), "give this one a name of its own")
		return false
	}
	r.taken[name] = true
	return true
}

// label is a name safe inside Problem.What, or what stands for none.
func label(name, otherwise string) string {
	if strings.TrimSpace(name) == "" {
		return otherwise
	}
	return escaped(name)
}

func (f Fitting) label() string { return label(f.Name, "the fitting") }

func (k Bracket) label() string { return label(k.Name, "the bracket") }

// of is whose a figure is, as in " of fill neck"; nothing where there is no name.
func of(names ...string) string {
	whose := strings.Join(strings.Fields(strings.Join(names, " ")), " ")
	if whose == "" {
		return ""
	}
	return " of " + whose
}
