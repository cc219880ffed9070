package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"jetwright": func() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) },
	})
}

// The program as it is used: one script a behaviour.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			// json FILE PATH… : the JSON in FILE has something at every dotted path
			"json": func(ts *testscript.TestScript, neg bool, args []string) {
				var v any
				ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &v))
				for _, path := range args[1:] {
					if _, ok := at(v, path); ok == neg {
						ts.Fatalf("%s: %s is there: %v", args[0], path, ok)
					}
				}
			},
			// same FILE FILE : two files hold the same bytes
			// append puts a file of the script behind another
			"append": func(ts *testscript.TestScript, _ bool, args []string) {
				to := ts.MkAbs(args[1])
				ts.Check(os.WriteFile(to, []byte(ts.ReadFile(to)+ts.ReadFile(args[0])), 0o644))
			},
			"same": func(ts *testscript.TestScript, neg bool, args []string) {
				if bytes.Equal([]byte(ts.ReadFile(args[0])), []byte(ts.ReadFile(args[1]))) == neg {
					ts.Fatalf("%s and %s: the same is %v", args[0], args[1], neg)
				}
			},
		},
	})
}

// at walks a decoded JSON value; a number picks from a list.
func at(v any, path string) (any, bool) {
	for path != "" {
		head, rest := path, ""
		for i := range path {
			if path[i] == '.' {
				head, rest = path[:i], path[i+1:]
				break
			}
		}
		switch x := v.(type) {
		case map[string]any:
			y, ok := x[head]
			if !ok {
				return nil, false
			}
			v = y
		case []any:
			n := 0
			for _, c := range head {
				if c < '0' || c > '9' {
					return nil, false
				}
				n = 10*n + int(c-'0')
			}
			if n >= len(x) {
				return nil, false
			}
			v = x[n]
		default:
			return nil, false
		}
		path = rest
	}
	return v, true
}

// The examples of the README and the scene are answered in JSON that every reader can take.
func TestJSONOfScene(t *testing.T) {
	scene := filepath.Join("..", "..", "examples", "rescue-sled")
	for _, args := range [][]string{{"limits", scene, "--json"}, {"predict", scene, "--json"}, {"audit", scene, "--json"}, {"reckon", scene, "--json"}, {"stand", scene, "--json"}, {"rank", scene, "--json"}, {"revisions", scene, "--json"}, {"tonight", scene, "--json"}, {"explain", "thrust", scene, "--json"}, {"explain", "nozzle.diameter", scene, "--json"}} {
		var out, errs bytes.Buffer
		if code := run(args, &out, &errs); code != 0 {
			t.Fatalf("%v: exit %d: %s", args, code, errs.String())
		}
		var v any
		if err := json.Unmarshal(out.Bytes(), &v); err != nil {
			t.Errorf("%v: %v", args, err)
		}
		if bytes.Contains(out.Bytes(), []byte("NaN")) || bytes.Contains(out.Bytes(), []byte("Inf")) {
			t.Errorf("%v prints what is no number", args)
		}
	}
}

// Duties far apart, as typed: each is answered in numbers, by proposals or by a reason.
func TestSizeAnyDutyLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 8 {
		thrust := 5 * math.Pow(4000, rng.Float64())
		args := []string{
			"size", "--json", "--nominal", "--thrust", fmt.Sprintf("%.4g N", thrust), "--under-way", fmt.Sprintf("%.4g N at %.3g m/s", thrust*(0.1+rng.Float64()), 0.3+20*rng.Float64()),
			"--voltage", fmt.Sprintf("%.4g V", 7*math.Pow(60, rng.Float64())), "--diameter", fmt.Sprintf("%.4g mm", 40*math.Pow(15, rng.Float64())),
		}
		var out, errs bytes.Buffer
		if code := run(args, &out, &errs); code != 0 {
			t.Errorf("%q: exit %d: %s", args, code, errs.String())
			continue
		}
		var v struct {
			Met       bool
			Proposals []any
			Unmet     *struct{ Reason string }
		}
		if err := json.Unmarshal(out.Bytes(), &v); err != nil || v.Met != (len(v.Proposals) > 0) || v.Met == (v.Unmet != nil) || v.Unmet != nil && v.Unmet.Reason == "" {
			t.Errorf("%q: %v, %+v", args, err, v)
		}
		if bytes.Contains(out.Bytes(), []byte("NaN")) || bytes.Contains(out.Bytes(), []byte("Inf")) || bytes.Contains(out.Bytes(), []byte("not known")) {
			t.Errorf("%q prints what is no number", args)
		}
	}
}

func BenchmarkSize(b *testing.B) {
	for b.Loop() {
		var out, errs bytes.Buffer
		if code := run([]string{"size", "--thrust", "380 N", "--under-way", "230 N at 7.5 m/s", "--voltage", "48 V", "--diameter", "118 mm"}, &out, &errs); code != 0 {
			b.Fatal(errs.String())
		}
	}
}

func BenchmarkReckonScene(b *testing.B) {
	scene := filepath.Join("..", "..", "examples", "rescue-sled")
	for b.Loop() {
		var out, errs bytes.Buffer
		if code := run([]string{"reckon", scene}, &out, &errs); code != 0 {
			b.Fatal(errs.String())
		}
	}
}

func BenchmarkPredictScene(b *testing.B) {
	scene := filepath.Join("..", "..", "examples", "rescue-sled")
	for _, extra := range [][]string{{"--nominal"}, {}} {
		name := "intervals"
		if len(extra) > 0 {
			name = "nominal"
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				var out, errs bytes.Buffer
				if code := run(append([]string{"predict", scene, "--json"}, extra...), &out, &errs); code != 0 {
					b.Fatal(errs.String())
				}
			}
		})
	}
}

// A page that cannot be written, and a folder that is none, end in the code for unusable input.
func TestReportCodes(t *testing.T) {
	scene := filepath.Join("..", "..", "examples", "rescue-sled")
	for _, args := range [][]string{
		{"report", scene, "--gaussian", "--out", filepath.Join(t.TempDir(), "nowhere", "r.html")},
		{"report", filepath.Join(t.TempDir(), "nowhere")},
		{"report", scene, "--json"},
		{"predict", scene, "--nominal", "--svg", filepath.Join(t.TempDir(), "nowhere", "p.svg")},
	} {
		var out, errs bytes.Buffer
		if code := run(args, &out, &errs); code != exitUnusable || errs.Len() == 0 || out.Len() > 0 {
			t.Errorf("%v: exit %d, said %q and %q", args, code, out.String(), errs.String())
		}
	}
}

func BenchmarkReportScene(b *testing.B) {
	scene := filepath.Join("..", "..", "examples", "rescue-sled")
	for b.Loop() {
		var out, errs bytes.Buffer
		if code := run([]string{"report", scene, "--gaussian", "--out", "-"}, &out, &errs); code != 0 {
			b.Fatal(errs.String())
		}
	}
}
