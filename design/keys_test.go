package design

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/quantity"
)

func TestSchema(t *testing.T) {
	if n := len(Schema().Fields()); n < 80 {
		t.Errorf("the schema of a drive has %d keys", n)
	}
	ClaimSchema()
	for _, f := range Schema().Fields() {
		if f.AssumeText != "" && f.Source == "" {
			t.Errorf("%s is assumed without a source", f.Path)
		}
		if f.Doc == "" {
			t.Errorf("%s has no meaning", f.Path)
		}
	}
}

// keyTable writes a table of keys.
func keyTable(b *bytes.Buffer, fields []quantity.Field) {
	b.WriteString("| key | unit | meaning | possible | if not typed | source |\n|---|---|---|---|---|---|\n")
	for _, f := range fields {
		unit, possible, assume := f.Unit.Symbol, "", "must be typed"
		if f.Range != nil {
			possible = f.Range.Text(f.Unit)
		}
		switch {
		case len(f.Choices) > 0:
			possible = strings.Join(f.Choices, ", ")
		case f.Kind == quantity.KindText:
			possible = "words"
		case f.Kind == quantity.KindFlag:
			possible = "true, false"
		case f.Kind == quantity.KindList:
			possible = "list; each " + possible
		}
		switch {
		case f.AssumeText != "":
			assume = f.AssumeText
		case !f.Required():
			assume = "left out"
		}
		was := ""
		if len(f.Was) > 0 {
			was = " (formerly " + strings.Join(f.Was, ", ") + ")"
		}
		fmt.Fprintf(b, "| `%s`%s | %s | %s | %s | %s | %s |\n", f.Key, was, unit, f.Doc, possible, assume, f.Source)
	}
}

const coolantIntro = `
## [[coolant]]

The coolant's way part by part, each under its own ` + "`[[coolant]]`" + `, in the order of flow: a tap begins a way, an
outlet ends it. ` + "`to = \"split\"`" + ` ends a branch at a place and ` + "`from = \"split\"`" + ` begins one there; what two parts
name is one place. Without tap and outlet the last part leads back to the first: a closed loop, which takes a pump and
a keel plate. A part is named by its number from 0, such as ` + "`coolant[1].bore`" + `. Without any
` + "`[[coolant]]`" + ` the coolant is what ` + "`[cooling]`" + ` says alone; with them ` + "`tap_diameter`" + ` and ` + "`loss_coefficient`" + ` are
not used, nor the resistance to the coolant of a plate or a jacket that is among them.

`

// docs/keys.md is the table of all keys, from the one declaration of each.
func TestKeysFresh(t *testing.T) {
	var b bytes.Buffer
	b.WriteString(`# Keys

Every key of a drive folder, generated from the declarations in the code by
` + "`JETWRIGHT_UPDATE=1 go test ./design ./project`" + `; a test proves this page fresh. A quantity is
typed in quotes with its unit, and may carry a tolerance in one of three notations:
` + "`\"64 mm ± 0.2 mm\"`" + ` are limits, ` + "`\"0.60 .. 0.78\"`" + ` is a range, ` + "`\"0.520(12)\"`" + ` a standard
uncertainty in the last digits. Counts are bare whole numbers.

Below ` + "`[built]`" + ` any of the keys of a part may be typed again, as measured on the finished part:
` + "`nozzle.diameter = \"63.8 mm ± 0.05 mm\"`" + `. The measured value is the one that is used.

# drive.toml
`)
	for _, section := range Schema().Sections() {
		fmt.Fprintf(&b, "\n## [%s]\n\n", section)
		keyTable(&b, Schema().Section(section))
		if section == "duty" {
			fmt.Fprintf(&b, "| `steps` |  | %s | list of texts; each above 0 s, at most a day | left out |  |\n", StepsDoc)
		}
		if section == "craft" {
			fmt.Fprintf(&b, "| `ride` |  | %s | list of texts; each above 0, at most a day or 1000 km | left out |  |\n", LegsDoc)
		}
		if section == "thermal" {
			fmt.Fprintf(&b, "| `elements` |  | %s | list of texts; each above 0, at most 1e9 in its SI unit | left out |  |\n", ElementsDoc())
		}
	}
	b.WriteString("\n## [[claim]]\n\n")
	keyTable(&b, ClaimSchema().Fields())
	b.WriteString(coolantIntro)
	schema := CoolantSchema()
	keyTable(&b, schema.Section(""))
	for _, kind := range CoolantKinds() {
		fmt.Fprintf(&b, "\n### kind = %q\n\n", kind)
		var fields []quantity.Field
		for _, key := range coolantKeys(kind) {
			f, _ := schema.Lookup(kind + "." + key)
			f.Key = key
			fields = append(fields, f)
		}
		keyTable(&b, fields)
	}
	b.WriteString("\nThe keys of `run.toml` stand in [keys-run.md](keys-run.md).\n")
	file := filepath.Join("..", "docs", "keys.md")
	if os.Getenv("JETWRIGHT_UPDATE") != "" {
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(have, b.Bytes()) {
		t.Errorf("%s is stale; write it with: JETWRIGHT_UPDATE=1 go test ./design", file)
	}
}
