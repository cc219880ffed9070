package desk

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"
	"testing"

	"jetwright/design"
	"jetwright/quantity"
)

// rooms whose comments hold formula cards.
var cardRooms = []string{"quantity", "numeric", "physics/water", "physics/jet", "physics/blade", "physics/electric", "physics/heat", "physics/strength", "physics/craft", "drive", "explore", "bench", "reckon", "plan"}

var bracketed = regexp.MustCompile(`\[([A-Z][A-Za-z0-9]*)\.([A-Z][A-Za-z0-9]*)\]`)

// gatherCards reads the formula cards out of the comments.
func gatherCards(t *testing.T) []Card {
	t.Helper()
	var cards []Card
	for _, room := range cardRooms {
		files, err := filepath.Glob(filepath.Join("..", filepath.FromSlash(room), "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			for _, decl := range parsed.Decls {
				name, doc := "", (*ast.CommentGroup)(nil)
				switch d := decl.(type) {
				case *ast.FuncDecl:
					name, doc = d.Name.Name, d.Doc
					if d.Recv != nil {
						name = receiver(d.Recv.List[0].Type) + "." + name
					}
				case *ast.GenDecl:
					if len(d.Specs) == 1 {
						if ts, ok := d.Specs[0].(*ast.TypeSpec); ok {
							name, doc = ts.Name.Name, d.Doc
						}
					}
				}
				if doc == nil {
					continue
				}
				if c, ok := readCard(parsed.Name.Name+"."+name, doc.Text()); ok {
					cards = append(cards, c)
				}
			}
		}
	}
	sort.Slice(cards, func(a, b int) bool { return cards[a].Name < cards[b].Name })
	return cards
}

func receiver(e ast.Expr) string {
	if s, ok := e.(*ast.StarExpr); ok {
		e = s.X
	}
	if id, ok := e.(*ast.Ident); ok {
		return id.Name
	}
	return ""
}

// readCard splits a comment into the parts of a card; without an equation or a source it is none.
func readCard(name, text string) (Card, bool) {
	c := Card{Name: name}
	var summary, formula, holds []string
	seen := false
	for _, l := range strings.Split(text, "\n") {
		switch {
		case strings.HasPrefix(l, "\t"):
			seen = true
			formula = append(formula, strings.ReplaceAll(l[1:], "\t", "    "))
		case seen && len(holds) == 0 && l == "":
			formula = append(formula, "")
		case strings.HasPrefix(l, "Source: "):
			rest := strings.TrimPrefix(l, "Source: ")
			c.Source, c.Tests, _ = strings.Cut(rest, " Tests: ")
			c.Source, c.Tests = strings.TrimSuffix(c.Source, "."), strings.TrimSuffix(c.Tests, ".")
		case !seen:
			summary = append(summary, l)
		default:
			holds = append(holds, l)
		}
	}
	if !seen || c.Source == "" {
		return c, false
	}
	join := func(l []string) string {
		return strings.TrimSpace(strings.Join(strings.Fields(strings.Join(l, " ")), " "))
	}
	c.Summary, c.Holds = join(summary), join(holds)
	c.Formula = strings.TrimSpace(strings.Join(formula, "\n"))
	for _, m := range bracketed.FindAllStringSubmatch(text, -1) {
		c.Keys = append(c.Keys, quantity.SnakeCase(m[1])+"."+quantity.SnakeCase(m[2]))
	}
	return c, true
}

// fresh holds a generated file to what generates it; JETWRIGHT_UPDATE=1 writes it.
func fresh(t *testing.T, file string, want []byte) {
	t.Helper()
	if os.Getenv("JETWRIGHT_UPDATE") != "" {
		if err := os.WriteFile(file, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(have, want) {
		t.Errorf("%s is stale; write it with: JETWRIGHT_UPDATE=1 go test ./desk", file)
	}
}

func TestCardsFresh(t *testing.T) {
	cards := gatherCards(t)
	if len(cards) < 30 {
		t.Errorf("only %d formula cards were found", len(cards))
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(cards); err != nil {
		t.Fatal(err)
	}
	fresh(t, "cards.json", b.Bytes())
	names := map[string]bool{}
	for _, c := range cards {
		names[c.Name] = true
	}
	of := maps.Clone(cardsOf)
	for path, list := range bladeCardsOf {
		of[path] = append(slices.Clone(of[path]), list...)
	}
	for key, list := range bladeKeyCards {
		path := "impeller." + key
		if _, ok := design.Schema().Lookup(path); !ok {
			t.Errorf("no key is called %s", path)
		}
		for _, name := range list {
			if len(cardsNamed([]string{name})) != 1 {
				t.Errorf("%s names the card %s", path, name)
			}
		}
	}
	for path, list := range of {
		if _, ok := StateSchema().Lookup(path); !ok {
			t.Errorf("cards are kept for %s, which is no figure of the state", path)
		}
		for _, name := range list {
			if !names[name] {
				t.Errorf("%s points at a card %s that does not exist", path, name)
			}
		}
	}
}

// docs/method.md is an introduction that is written by hand and the cards, room by room.
func TestMethodFresh(t *testing.T) {
	intro, err := os.ReadFile(filepath.Join("..", "docs", "method-intro.md"))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	b.Write(bytes.TrimRight(intro, "\n"))
	b.WriteString("\n")
	room := ""
	for _, c := range gatherCards(t) {
		at, name, _ := strings.Cut(c.Name, ".")
		if at != room {
			room = at
			fmt.Fprintf(&b, "\n## %s\n", room)
		}
		fmt.Fprintf(&b, "\n### %s\n\n%s\n\n```text\n%s\n```\n\n", name, c.Summary, c.Formula)
		if c.Holds != "" {
			fmt.Fprintf(&b, "%s\n\n", c.Holds)
		}
		fmt.Fprintf(&b, "Source: %s. Held by: %s.\n", c.Source, c.Tests)
	}
	fresh(t, filepath.Join("..", "docs", "method.md"), b.Bytes())
}
