package cli

import (
	"context"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"elbowroom/clearance"
	"elbowroom/cmd/internal/job"
	"elbowroom/solid"
	"elbowroom/survey"
)

// mainJob is the main job, surveyed and built.
func mainJob(b *testing.B) (*job.Job, *survey.Space, *solid.Assembly) {
	b.Helper()
	j, err := load(filepath.Join(root, "testdata", "header-tank", "job.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	space, assembly, err := build(j, (&inches{}).style(j.Unit))
	if err != nil {
		b.Fatal(err)
	}
	return j, space, assembly
}

// The main job with every kind of check: check alone, and the whole command.
func BenchmarkCheckDemo(b *testing.B) {
	j, space, assembly := mainJob(b)
	b.Run("check", func(b *testing.B) { benchmarkCheck(b, j.Rules, space, assembly) })
	b.Run("command", func(b *testing.B) {
		for b.Loop() {
			if code := Run([]string{"check", j.File}, strings.NewReader(""), io.Discard, io.Discard, Env{}); code != exitNo {
				b.Fatal(code)
			}
		}
	})
}

// The main job with one kind of check alone. Nothing is what they all take: the
// bare box against what was measured.
func BenchmarkCheckDemoAlone(b *testing.B) {
	j, space, _ := mainJob(b)
	rules := j.Rules
	rules.Hoses, rules.Motions, rules.WayIn = nil, nil, clearance.WayInSpec{}
	tank := j.Tank
	tank.Fittings = slices.Clone(tank.Fittings)
	for i := range tank.Fittings {
		tank.Fittings[i].KeepOpen = nil
	}
	bare, err := solid.Build(tank)
	if err != nil {
		b.Fatal(err)
	}
	whole, err := solid.Build(j.Tank)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("nothing", func(b *testing.B) { benchmarkCheck(b, rules, space, bare) })
	with := rules
	with.Hoses = j.Rules.Hoses[1:]
	b.Run("tank to bottle, found", func(b *testing.B) { benchmarkCheck(b, with, space, bare) })
	with = rules
	with.Motions = j.Rules.Motions
	b.Run("motions", func(b *testing.B) { benchmarkCheck(b, with, space, bare) })
	b.Run("rooms", func(b *testing.B) { benchmarkCheck(b, rules, space, whole) })
	with = rules
	with.WayIn = j.Rules.WayIn
	b.Run("way in, found", func(b *testing.B) { benchmarkCheck(b, with, space, bare) })
}

func benchmarkCheck(b *testing.B, rules clearance.Rules, space *survey.Space, assembly *solid.Assembly) (rep *clearance.Report) {
	b.Helper()
	b.ReportAllocs()
	var err error
	for b.Loop() {
		if rep, err = clearance.Check(context.Background(), space, assembly, rules); err != nil {
			b.Fatal(err)
		}
	}
	return rep
}
