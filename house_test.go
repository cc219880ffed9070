// Package house holds the tests that belong to no single room: the plan of the house, the
// formula cards, the words.
package house

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"
)

const module = "jetwright"

// plan reads the block of the README that says which room may import which.
func plan(text string) (rooms map[string][]string, lines map[string]int, err error) {
	_, rest, ok := strings.Cut(text, "```house\n")
	if !ok {
		return nil, nil, fmt.Errorf("the README has no house block")
	}
	first := strings.Count(text[:len(text)-len(rest)], "\n") + 1
	block, _, _ := strings.Cut(rest, "```")
	rooms, lines = map[string][]string{}, map[string]int{}
	for i, l := range strings.Split(strings.TrimRight(block, "\n"), "\n") {
		name, may, ok := strings.Cut(l, ":")
		if !ok {
			return nil, nil, fmt.Errorf("README line %d is no line of the plan: %q", first+i, l)
		}
		name = strings.TrimSpace(name)
		rooms[name], lines[name] = strings.Fields(may), first+i
	}
	return rooms, lines, nil
}

// violations holds imports to the plan: room → rooms it imports.
func violations(rooms map[string][]string, lines map[string]int, imports map[string][]string) []string {
	var out []string
	for room, list := range imports {
		may, known := rooms[room]
		if !known {
			out = append(out, fmt.Sprintf("%s is a package that the plan does not know", room))
			continue
		}
		for _, to := range list {
			ok := false
			for _, m := range may {
				ok = ok || m == to || strings.HasSuffix(m, "/*") && strings.HasPrefix(to, strings.TrimSuffix(m, "*"))
			}
			if !ok {
				out = append(out, fmt.Sprintf("%s imports %s, which README line %d does not allow", room, to, lines[room]))
			}
		}
	}
	sort.Strings(out)
	return out
}

// files walks the Go files of the module.
func files(t *testing.T, visit func(path string, file *ast.File, set *token.FileSet)) {
	t.Helper()
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if n := d.Name(); path != "." && (strings.HasPrefix(n, ".") || n == "testdata" || n == "node_modules" || n == "sidebyside") {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		visit(filepath.ToSlash(path), file, set)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func room(path string) string { return filepath.ToSlash(filepath.Dir(path)) }

func TestHouse(t *testing.T) {
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	rooms, lines, err := plan(string(text))
	if err != nil {
		t.Fatal(err)
	}
	imports := map[string][]string{}
	files(t, func(path string, file *ast.File, _ *token.FileSet) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		if imports[room(path)] == nil {
			imports[room(path)] = []string{}
		}
		for _, im := range file.Imports {
			if to, ours := strings.CutPrefix(strings.Trim(im.Path.Value, `"`), module+"/"); ours {
				imports[room(path)] = append(imports[room(path)], to)
			}
		}
	})
	if len(imports) < 10 {
		t.Fatalf("only %d packages were found", len(imports))
	}
	delete(imports, "web/build") // a module of its own, which makes the page's bundle
	for _, v := range violations(rooms, lines, imports) {
		t.Error(v)
	}
	// the test itself sees what it is for
	bad := violations(rooms, lines, map[string][]string{"bench": {"drive"}, "attic": {}, "drive": {"physics/jet"}})
	if len(bad) != 2 {
		t.Errorf("made-up violations are seen as %q", bad)
	}
}

var (
	bibKey     = regexp.MustCompile(`(?m)^@\w+\{([^,]+),`)
	sourceLine = regexp.MustCompile(`(?s)Source: (.+?)\. Tests: (.+?)\.\s*$`)
	keyWord    = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	tagSource  = regexp.MustCompile(`source:"([^"]+)"`)
)

// cardRooms are held to formula cards.
func cardRoom(r string) bool {
	return strings.HasPrefix(r, "physics/") || r == "drive" || r == "numeric" || r == "reckon" || r == "explore" || r == "bench" || r == "quantity" || r == "plan"
}

// uncarded are exported functions of physics that return a plain number without a formula of
// their own.
var uncarded = map[string]string{
	"physics/electric.Chain.Constant":     "hands out a stored number",
	"physics/electric.Chain.OpenCircuit":  "hands out a stored number",
	"physics/electric.Chain.WindingBound": "looks a class up in a table",
	"physics/electric.Chain.Copper":       "squares a current on a stored resistance",
	"physics/electric.Motor.Constants":    "chooses between two carded conversions",
	"physics/electric.Chain.PhaseCurrent": "chooses among three stored numbers",
}

// TestCards holds every formula to its card: an equation, a source that the bibliography knows,
// tests that exist.
func TestCards(t *testing.T) {
	bib, err := os.ReadFile(filepath.Join("docs", "sources.bib"))
	if err != nil {
		t.Fatal(err)
	}
	known, used := map[string]bool{}, map[string]bool{}
	for _, m := range bibKey.FindAllStringSubmatch(string(bib), -1) {
		known[strings.TrimSpace(m[1])] = true
	}
	tests := map[string]map[string]bool{}
	type card struct{ room, name, text string }
	var cards []card
	use := func(where, keys string) {
		for _, part := range strings.Split(keys, ",") {
			word := strings.TrimSpace(part)
			if !keyWord.MatchString(word) || !known[word] && strings.Contains(word, " ") {
				continue // "eq. 2.56" and the like
			}
			if !known[word] {
				t.Errorf("%s: the source %q is not in docs/sources.bib", where, word)
			}
			used[word] = true
		}
	}
	files(t, func(path string, file *ast.File, set *token.FileSet) {
		r := room(path)
		for _, decl := range file.Decls {
			d, ok := decl.(*ast.FuncDecl)
			if ok && strings.HasSuffix(path, "_test.go") {
				if tests[r] == nil {
					tests[r] = map[string]bool{}
				}
				tests[r][d.Name.Name] = true
				published(t, path, d, set)
				continue
			}
			if !ok || strings.HasSuffix(path, "_test.go") {
				continue
			}
			name := d.Name.Name
			if d.Recv != nil {
				e := d.Recv.List[0].Type
				if s, ok := e.(*ast.StarExpr); ok {
					e = s.X
				}
				if id, ok := e.(*ast.Ident); ok {
					name = id.Name + "." + name
				}
			}
			text := d.Doc.Text()
			if strings.Contains(text, "\n\t") {
				cards = append(cards, card{r, name, text})
			} else if strings.HasPrefix(r, "physics/") && d.Name.IsExported() && d.Type.Results != nil && returnsNumber(d) && uncarded[r+"."+name] == "" {
				t.Errorf("%s.%s returns a number and has no formula card", r, name)
			}
		}
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.Field:
				if x.Tag != nil {
					if m := tagSource.FindStringSubmatch(x.Tag.Value); m != nil {
						use(path, m[1])
					}
				}
			case *ast.KeyValueExpr:
				if id, ok := x.Key.(*ast.Ident); ok && id.Name == "Source" {
					if lit, ok := x.Value.(*ast.BasicLit); ok {
						s, _ := strconv.Unquote(lit.Value)
						use(path, s)
					}
				}
			case *ast.BasicLit:
				if x.Kind == token.STRING {
					if s, err := strconv.Unquote(x.Value); err == nil && known[s] {
						used[s] = true
					}
				}
			}
			return true
		})
	})
	for _, c := range cards {
		if !cardRoom(c.room) || !strings.Contains(c.text, "Source: ") && strings.HasPrefix(c.room, "quantity") {
			continue
		}
		m := sourceLine.FindStringSubmatch(strings.TrimSpace(c.text))
		if m == nil {
			if !strings.Contains(c.text, "\n\t") || !ast.IsExported(c.name[strings.LastIndexByte(c.name, '.')+1:]) {
				continue
			}
			t.Errorf("%s.%s has an equation and no line \"Source: … Tests: ….\"", c.room, c.name)
			continue
		}
		use(c.room+"."+c.name, m[1])
		for _, name := range strings.Split(m[2], ",") {
			if name = strings.TrimSpace(name); !tests[c.room][name] {
				t.Errorf("%s.%s names a test %q that does not exist", c.room, c.name, name)
			}
		}
	}
	if len(cards) < 40 {
		t.Errorf("only %d cards were found", len(cards))
	}
	for k := range known {
		if !used[k] {
			t.Errorf("docs/sources.bib has %q, which nothing uses", k)
		}
	}
}

func returnsNumber(d *ast.FuncDecl) bool {
	for _, f := range d.Type.Results.List {
		if id, ok := f.Type.(*ast.Ident); ok && id.Name == "float64" {
			return true
		}
	}
	return false
}

// published holds a test that says Published to saying where its numbers come from.
func published(t *testing.T, path string, d *ast.FuncDecl, set *token.FileSet) {
	if !strings.HasPrefix(d.Name.Name, "Test") || !strings.HasSuffix(d.Name.Name, "Published") && !strings.HasSuffix(d.Name.Name, "CommonPractice") {
		return
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := d.Doc.Text() + string(raw[set.Position(d.Pos()).Offset:set.Position(d.End()).Offset])
	for _, word := range []string{"SEEN", "SECOND-HAND", "COMPUTED", "FROM MEMORY", "exact by definition", "common practice, no source"} {
		if strings.Contains(text, word) {
			return
		}
	}
	t.Errorf("%s: %s does not say how its numbers are known", path, d.Name.Name)
}

// TestWords keeps words out of the project that do not belong there, and figures of the trade
// out of what a reader sees first.
func TestWords(t *testing.T) {
	never := []string{"trans" + "cript", "foot" + "age", "voice-" + "over", "/wo" + "rk/", "/ro" + "ot/"}
	figures := []string{"450" + " N", "1000" + " N", "761" + " N", "850" + " N", "45" + " kgf", "11" + " kW", "5" + " kW"}
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		path = filepath.ToSlash(path)
		if d.IsDir() {
			if path == ".git" || d.Name() == "rapid" || d.Name() == "fuzz" || d.Name() == "node_modules" {
				return filepath.SkipDir
			}
			return nil
		}
		raw, err := os.ReadFile(path)
		if err != nil || bytes.IndexByte(raw, 0) >= 0 {
			return err
		}
		for _, w := range never {
			if regexp.MustCompile(`(^|[^a-z])`+regexp.QuoteMeta(w)+`([^a-z]|$)`).Match(bytes.ToLower(raw)) || strings.HasPrefix(w, "/") && bytes.Contains(raw, []byte(w)) {
				t.Errorf("%s says %q", path, w)
			}
		}
		if path == "README.md" || strings.HasPrefix(path, "docs/") || strings.HasPrefix(path, "examples/") {
			for _, w := range figures {
				for _, m := range regexp.MustCompile(`(^|[^0-9.])`+regexp.QuoteMeta(w)+`\b`).FindAllIndex(raw, -1) {
					t.Errorf("%s holds the trade's figure %q at byte %d", path, w, m[0])
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
