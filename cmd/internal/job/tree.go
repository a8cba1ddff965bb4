package job

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"elbowroom/survey/table"
)

// kind tells the kinds of nodes apart.
type kind int

const (
	nothing kind = iota // a key with no value
	refused             // complained of already; the rest is silent on it
	scalar
	list
	mapping
)

// node is a value in the job file. A scalar keeps its text as written: no
// number, date or yes/no is made of it.
type node struct {
	kind kind
	text string
	// pos is where the text to mend stands: a scalar's first character, a
	// list's or a mapping's opening bracket, else the key that it stands under.
	pos   table.Pos
	path  string // as in "fittings[0].at"
	keys  []entry
	items []node
}

// entry is a key with its value.
type entry struct {
	name  string
	pos   table.Pos
	value node
}

// plant makes the tree of a job file. A file that is no YAML gives one problem.
func plant(file string, data []byte) (root node, problems table.Problems) {
	text, problem := clean(file, data)
	if problem != nil {
		return node{}, table.Problems{problem}
	}
	parsed, err := parse(text)
	if err != nil {
		return node{}, table.Problems{diagnose(file, text, err)}
	}
	g := gardener{file: file}
	for i, doc := range parsed.Docs {
		if doc.Body == nil {
			continue
		}
		if i > 0 && root.kind != nothing {
			start := doc.Start
			if start == nil {
				start = doc.Body.GetToken()
			}
			g.complain(start, "", "a second document starts here", "keep one job in a file, and take out the line ---")
			break
		}
		root = g.node(doc.Body, table.Pos{File: file, Line: 1, Column: 1}, "")
	}
	return root, g.problems
}

// parse calls the YAML parser. A fault of it on some odd text is no fault of
// the person who wrote the text, so it comes back as an error like any other.
func parse(text string) (f *ast.File, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			f, err = nil, fmt.Errorf("the parser gave up: %v", fault)
		}
	}()
	return parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
}

// gardener turns the parser's nodes into ours.
type gardener struct {
	file     string
	problems table.Problems
}

func (g *gardener) pos(t *token.Token) table.Pos {
	return table.Pos{File: g.file, Line: t.Position.Line, Column: max(1, t.Position.Column)}
}

func (g *gardener) complain(t *token.Token, path, what, mend string) {
	g.problems.Add(&table.Problem{Pos: g.pos(t), Field: path, Value: t.Value, What: what, Mend: mend})
}

// node turns one node. under is the place of the key that it stands under.
func (g *gardener) node(n ast.Node, under table.Pos, path string) node {
	out := node{pos: under, path: path}
	switch n := n.(type) {
	case *ast.NullNode:
		return out
	case *ast.MappingNode:
		if n.IsFlowStyle {
			out.pos = g.pos(n.GetToken())
		}
		return g.mapping(out, n.Values)
	case *ast.MappingValueNode:
		return g.mapping(out, []*ast.MappingValueNode{n})
	case *ast.SequenceNode:
		out.kind = list
		if n.IsFlowStyle {
			out.pos = g.pos(n.GetToken())
		}
		for i, item := range n.Values {
			out.items = append(out.items, g.node(item, g.itemPos(n, i), fmt.Sprintf("%s[%d]", path, i)))
		}
		return out
	case *ast.LiteralNode:
		out.kind = refused
		g.complain(n.GetToken(), path, "a text over several lines", "write it on one line, without "+n.GetToken().Value)
		return out
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode:
		out.kind = refused
		g.complain(n.GetToken(), path, "a value cannot start with "+n.GetToken().Value[:1], "put the value in quotes")
		return out
	}
	return g.scalar(out, n.GetToken())
}

// itemPos is where an item of a list stands: at its dash, or the list's own
// place when its items stand in brackets.
func (g *gardener) itemPos(n *ast.SequenceNode, i int) table.Pos {
	if n.IsFlowStyle || i >= len(n.Entries) || n.Entries[i].Start == nil {
		return g.pos(n.Values[i].GetToken())
	}
	return g.pos(n.Entries[i].Start)
}

func (g *gardener) mapping(out node, values []*ast.MappingValueNode) node {
	out.kind = mapping
	for _, v := range values {
		key := v.Key.GetToken()
		if _, ok := v.Key.(*ast.MappingKeyNode); ok || v.Key.IsMergeKey() {
			g.complain(key, out.path, "a key cannot start with "+key.Value[:1], "write the key as a plain word")
			continue
		}
		if !printable(key.Value) {
			g.complain(key, out.path, "a key holds a character that cannot be printed", "write it again by hand")
			continue
		}
		path := key.Value
		if out.path != "" {
			path = out.path + "." + path
		}
		out.keys = append(out.keys, entry{key.Value, g.pos(key), g.node(v.Value, g.pos(key), path)})
	}
	return out
}

// scalar keeps a scalar's own text.
func (g *gardener) scalar(out node, t *token.Token) node {
	out.kind, out.text = refused, strings.TrimSpace(t.Value)
	quoted := t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType
	switch {
	case strings.Contains(strings.TrimSpace(t.Origin), "\n"):
		first, _, _ := strings.Cut(strings.TrimSpace(t.Origin), "\n")
		g.problems.Add(&table.Problem{Pos: out.pos, Field: out.path, Value: t.Value,
			What: "the value that starts with " + table.Quote(strings.TrimSpace(first)) + " runs on over the next line",
			Mend: "keep a value on one line, and give the next one the same indent as its neighbours"})
	case !printable(t.Value):
		g.complain(t, out.path, table.Quote(t.Value)+" holds a character that cannot be printed", "write it again by hand")
	case !quoted && strings.Contains(t.Value, ": "):
		g.complain(t, out.path, table.Quote(t.Value)+" holds a colon", "put a comma before the next key, or the whole value in quotes")
	default:
		out.kind, out.pos = scalar, g.pos(t)
	}
	return out
}

// printable says that a text holds no control characters. Names go into
// reports, so they must be.
func printable(text string) bool {
	return strings.IndexFunc(text, func(c rune) bool { return !unicode.IsPrint(c) }) < 0
}
