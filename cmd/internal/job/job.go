// Package job reads a job.yaml and the readings that it names, and makes of
// them what survey, solid and clearance take. Everything wrong with the job
// comes back at once, each with its place.
package job

import (
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// Name is what a job file is called in its folder.
const Name = "job.yaml"

// Job is a job as read.
type Job struct {
	Title    string
	File     string // the job.yaml
	Folder   string
	Unit     length.Unit
	Up       string // as written: "+y"
	Readings survey.Readings
	Tank     solid.Tank
	Rules    clearance.Rules
	Later    Later
	// Places gives the place in the job file of each key that is there, by its
	// path: the keys from the outside in with dots between them, the items of a
	// list by their number from 0, as in "box.at", "features.fuel line.gap",
	// "fittings[0].stack[1].length". See Place.
	Places map[string]table.Pos
}

// Place is the place in the job file of the key with that path, or of the
// innermost key around it that is there.
func (j *Job) Place(path string) table.Pos {
	for path != "" {
		if pos, ok := j.Places[path]; ok {
			return pos
		}
		path = path[:max(0, strings.LastIndexAny(path, ".["))]
	}
	return table.Pos{File: j.File}
}

// Load reads the job at path, a job.yaml or its folder. The error is
// table.Problems when the input is at fault, anything else when the job file
// cannot be read at all.
func Load(path string) (*Job, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, Name)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	j, problems := decode(path, data, func(name string) (io.ReadCloser, error) { return os.Open(name) })
	if len(problems) > 0 {
		return nil, problems
	}
	return j, nil
}

// opener opens a readings file.
type opener func(name string) (io.ReadCloser, error)

// decode makes a job of the text of a job file. The problems are sorted by
// place: those of the job file first, then those of each file in the order in
// which the job names them.
func decode(file string, data []byte, open opener) (*Job, table.Problems) {
	root, problems := plant(file, data)
	if len(problems) > 0 && root.kind == nothing {
		return nil, problems
	}
	j := &Job{File: file, Folder: filepath.Dir(file), Places: map[string]table.Pos{}}
	place(root, j.Places)
	r := newReader(j, open)
	r.problems = problems
	r.read(root)
	sorted(r.problems, r.fileOrder())
	return j, r.problems
}

// sorted puts problems in the order of their places.
func sorted(problems table.Problems, order map[string]int) {
	sort.SliceStable(problems, func(i, k int) bool {
		a, b := problems[i].Pos, problems[k].Pos
		if a.File != b.File {
			return order[a.File] < order[b.File]
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
}

// Later is what the job says for work that is not done yet. It has been
// checked like all the rest.
type Later struct {
	Room  [3]Span // where the box may be at all, along x, y, z
	Bend  Bend
	Brake Brake
	Stock [][2]float64 // sheets, mm
	Scans []ScanSetting
}

// Span is a range in mm. Given is false for one that the job leaves open.
type Span struct {
	From, To float64
	Given    bool
}

// Bend is the rule by which bends are reckoned: one of Rule, K and Flat.
type Bend struct {
	Rule string
	K    float64 // the neutral axis' depth as a share of the sheet
	Flat float64 // a test piece's flat length, mm, and its two legs
	Legs [2]float64
}

// Brake is what the bending brake takes, mm; 0: not given.
type Brake struct{ Length, LeastLeg, Throat float64 }

// ScanSetting is how a scan is brought into the frame of the tape.
type ScanSetting struct {
	File  string
	Tip   float64              // radius of the probe's tip, mm
	Match map[string]r3.Vector // marks by their place in the scan, mm
}
