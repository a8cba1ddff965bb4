package job

import (
	"errors"
	"io"
	"io/fs"
	"path/filepath"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// headBytes is how much of a readings file is looked at to tell its kind; the
// header line lies well within it.
const headBytes = 1 << 16

// evidence reads what bears on the readings as a whole.
func (r *reader) evidence(s section) {
	r.within = length.Limit{Plus: defaultWithin, Minus: defaultWithin}
	s.limit("within", &r.within)
	if n, ok := s.get("tape"); ok {
		u := r.section(n, "class", "zero")
		if _, i, ok := u.choice("class", "I", "II", "III"); ok {
			r.job.Readings.TapeFacts.Class = [...]string{"I", "II", "III"}[i]
		}
		u.length("zero", fromZero, &r.job.Readings.TapeFacts.Zero)
	}
	s.each("tried", func(n node) { r.tried(n) })
	if n, ok := s.get("room"); ok {
		u := r.section(n, "x", "y", "z")
		for i, key := range [3]string{"x", "y", "z"} {
			if m, ok := u.get(key); ok {
				span := &r.job.Later.Room[i]
				span.From, span.To, span.Given = r.span(m)
			}
		}
	}
}

// tried reads a mock-up that went in and stood there.
func (r *reader) tried(n node) {
	var t clearance.Tried
	u := r.section(n, "name", "at", "size", "within")
	u.need([2]string{"name", "shoe box"}, [2]string{"at", "[1, 1, 0], its lower left back corner"}, [2]string{"size", "[9, 5, 4]"})
	u.text("name", &t.Name)
	r.twice(r.triedAt, t.Name, u.value["name"], "mock-up")
	if m, ok := u.get("at"); ok {
		t.At, _ = r.vector(m, unlimited, "x", "y", "z")
	}
	if m, ok := u.get("size"); ok {
		t.Size, _ = r.vector(m, overZero, "width", "height", "depth")
	}
	t.Within = defaultWithin
	u.length("within", fromZero, &t.Within)
	r.job.Rules.Tried = append(r.job.Rules.Tried, t)
}

// readings reads the files that the job names, and holds them against it.
func (r *reader) readings(s section) {
	n, ok := s.get("readings")
	if !ok {
		r.job.Readings.LeftOut = lost(s.node)
		return
	}
	entries := []node{n}
	if n.kind == list {
		entries = n.items
	}
	if len(entries) == 0 {
		r.complain(n, "no file is named", "write the file with the readings, as in [points.csv]")
	}
	var files []survey.File
	for _, e := range entries {
		if f, ok := r.readingsFile(e); ok {
			files = append(files, f)
		}
	}
	got, err := survey.Read(files...)
	var problems table.Problems
	if errors.As(err, &problems) {
		r.problems = append(r.problems, problems...)
	}
	j := &r.job.Readings
	j.Points, j.Tapes, j.Depths = got.Points, got.Tapes, got.Depths
	j.LeftOut, j.Unread = got.LeftOut, got.Unread
	j.Doubts = append(j.Doubts, got.Doubts...)
	j.Doubts = append(j.Doubts, j.TapeDoubts()...)
	if len(files) < len(entries) || len(entries) == 0 {
		j.LeftOut = append(j.LeftOut, lost(n)...)
	} else if _, described := s.value["features"]; described {
		r.problems = append(r.problems, j.Validate()...)
	}
	for _, u := range j.Unread {
		r.unchecked(clearance.UncheckedFile, "", u.File, node{pos: u.Pos})
	}
}

// lost stands for the rows of a file that was not read: it may name anything.
func lost(n node) []survey.Point { return []survey.Point{{Pos: n.pos}} }

// readingsFile reads one entry of readings and the file that it names.
func (r *reader) readingsFile(n node) (survey.File, bool) {
	f := survey.File{Unit: r.unit, Within: r.within, Pos: n.pos}
	var setting ScanSetting
	name := n
	if n.kind == mapping {
		u := r.section(n, "file", "feature", "units", "within", "tip", "match")
		u.need([2]string{"file", "points.csv"})
		if m, ok := u.get("units"); ok {
			if unit, ok := r.unitOf(m); ok {
				f.Unit = unit
			}
		}
		job := r.unit
		r.unit = f.Unit // bare numbers here have the file's unit
		u.limit("within", &f.Within)
		u.text("feature", &f.Feature)
		u.length("tip", fromZero, &f.Tip)
		setting = r.scan(u, f.Tip)
		r.unit = job
		var ok bool
		if name, ok = u.get("file"); !ok {
			return f, false
		}
	}
	t, ok := r.word(name, "a file name")
	if !ok {
		return f, false
	}
	f.Name = t
	if !filepath.IsAbs(t) {
		f.Name = filepath.Join(r.job.Folder, t)
	}
	if _, twice := r.fileAt[f.Name]; twice {
		r.complain(name, "the file "+table.Quote(t)+" is named twice", "take one out")
		return f, false
	}
	r.fileAt[f.Name] = name.pos
	r.files = append(r.files, f.Name)
	if !r.load(name, &f) {
		return f, false
	}
	r.scanFeature(n, f)
	if survey.KindOf(f.Name, f.Data) == survey.Scan && (setting.Tip > 0 || setting.Match != nil) {
		r.job.Later.Scans = append(r.job.Later.Scans, setting)
	}
	return f, true
}

// scan reads how a scan is brought into the frame of the tape.
func (r *reader) scan(u section, tip float64) ScanSetting {
	setting := ScanSetting{File: u.value["file"].text, Tip: tip}
	n, ok := u.get("match")
	if ok && n.kind != mapping {
		r.complain(n, "marks with their place in the scan belong here", "write it as {P1: [x, y, z], P2: [x, y, z], P3: [x, y, z]}")
		return setting
	}
	for _, k := range n.keys {
		if v, ok := r.vector(k.value, unlimited, "x", "y", "z"); ok {
			if setting.Match == nil {
				setting.Match = map[string]r3.Vector{}
			}
			setting.Match[k.name] = v
			r.marks = append(r.marks, node{kind: scalar, text: k.name, pos: k.pos, path: n.path})
		}
	}
	return setting
}

// scanFeature checks that a scan says which feature it is, and that nothing else
// has the keys of a scan.
func (r *reader) scanFeature(n node, f survey.File) {
	if kind := survey.KindOf(f.Name, f.Data); kind != survey.Scan {
		for _, k := range n.keys {
			switch {
			case k.name == "feature" || k.name == "match":
				r.complain(k.value, k.name+" goes with a scan; this file names its features row by row", "take it out")
			case k.name == "tip" && kind != survey.Points:
				r.complain(k.value, "tip is the radius of a ball whose centre was measured; a "+kind.String()+" reading has none", "take it out")
			}
		}
		return
	}
	if f.Feature == "" {
		r.complain(n, "a scan is one feature, and it is not said which", "write it as {file: "+filepath.Base(f.Name)+", feature: scan} and describe that feature under features:, as {shape: dots}")
		return
	}
	r.features = append(r.features, node{kind: scalar, text: f.Feature, pos: n.pos, path: n.path})
}

// load reads a file. Of a scan only the first bytes are read.
func (r *reader) load(n node, f *survey.File) bool {
	file, err := r.open(f.Name)
	if err == nil {
		defer file.Close()
		f.Data, err = head(file)
	}
	if err == nil && survey.KindOf(f.Name, f.Data) != survey.Scan {
		var rest []byte
		rest, err = io.ReadAll(file)
		f.Data = append(f.Data, rest...)
	}
	switch {
	case err == nil:
		return true
	case errors.Is(err, fs.ErrNotExist):
		r.complain(n, "there is no file "+table.Quote(n.text)+" beside the job", "check its name, or put it into the job's folder")
	case errors.Is(err, fs.ErrPermission):
		r.complain(n, "the file "+table.Quote(n.text)+" may not be read", "check who may read it")
	default:
		r.complain(n, "the file "+table.Quote(n.text)+" cannot be read", "check that it is a file and not a folder, and that the disk is well")
	}
	return false
}

func head(file io.Reader) ([]byte, error) {
	data := make([]byte, headBytes)
	n, err := io.ReadFull(file, data)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = nil
	}
	return data[:n], err
}

// fileOrder numbers the files in the order in which the job names them.
func (r *reader) fileOrder() map[string]int {
	order := map[string]int{r.job.File: 0}
	for i, name := range r.files {
		order[name] = i + 1
	}
	return order
}
