package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"jetwright/bench"
	"jetwright/desk"
	"jetwright/explore"
)

// block is a piece of a web page: a heading, a paragraph, a list, a table or a figure.
type block struct {
	Heading string
	Lead    string // bold, before the text
	Text    string
	Items   []string
	Table   *grid
	Figure  *picture
	Verdict string // a word in a frame, before the text
	Exact   string // lines that are to be copied as they are
}

// grid is a table of a web page.
type grid struct {
	Caption string
	Head    []cell
	Rows    []row
	Narrow  bool // as wide as its words only
	Grouped bool // what stands below a group stays with it
	Folded  bool // two halves beside each other
}

// row is a line of a table; Group is one that stands across all columns.
type row struct {
	Group string
	Span  int // of the group, in columns
	Cells []cell
	Heavy bool
}

type cell struct {
	Text  string
	Right bool
	Name  bool // names its row
	Whole bool // not broken into lines
	Span  int
}

// picture is a drawing of the pencil with what is to be seen in it.
type picture struct {
	SVG     template.HTML
	Number  int
	Caption string
}

// foldFrom is how many rows a list without a head may have before it is folded.
const foldFrom = 9

// newGrid makes a table as the text has it. Columns named in right are set flush right; the
// first that is not names the row.
func newGrid(head []string, rows [][]string, right ...int) *grid {
	flush := map[int]bool{}
	for _, c := range right {
		flush[c-1] = true
	}
	name := 0
	for flush[name] {
		name++
	}
	g := &grid{Narrow: len(rows) > 0 && len(rows[0]) <= 3}
	if head == nil && g.Narrow && len(rows) > foldFrom {
		// a long list of names and numbers stands in two halves beside each other
		half := (len(rows) + 1) / 2
		for i, r := range rows[:half] {
			cells := cellsOf(r, flush, name)
			if half+i < len(rows) {
				cells = append(cells, cellsOf(rows[half+i], flush, name)...)
			}
			g.Rows = append(g.Rows, row{Cells: cells})
		}
		g.Narrow, g.Folded = false, true
		return g
	}
	for i, h := range head {
		g.Head = append(g.Head, cell{Text: h, Right: flush[i]})
	}
	for _, r := range rows {
		g.Rows = append(g.Rows, row{Cells: cellsOf(r, flush, name)})
	}
	return g
}

func cellsOf(texts []string, flush map[int]bool, name int) []cell {
	out := make([]cell, len(texts))
	for i, t := range texts {
		out[i] = cell{Text: t, Right: flush[i], Name: i == name}
	}
	return out
}

// paragraph adds running text. What leads it in says what it is: a dash begins an item of a
// list, a colon ends a word that is set bold.
func (p *page) paragraph(lead, words string) {
	lead, words = capital(strings.TrimSpace(lead)), strings.TrimSpace(words)
	if lead == "" {
		words = capital(words)
	}
	if lead != "-" && words != "" && !strings.ContainsAny(words[len(words)-1:], ".:") {
		words += "."
	}
	switch {
	case words == "":
	case lead == "-":
		if n := len(p.blocks); n > 0 && p.blocks[n-1].Items != nil {
			p.blocks[n-1].Items = append(p.blocks[n-1].Items, words)
			return
		}
		p.blocks = append(p.blocks, block{Items: []string{words}})
	default:
		p.blocks = append(p.blocks, block{Lead: lead, Text: words})
	}
}

// capital begins a sentence, unless its first word is a path or a file.
func capital(words string) string {
	first, _, _ := strings.Cut(words, " ")
	if strings.ContainsAny(strings.TrimRight(first, ".:;,"), "._/") {
		return words
	}
	r, n := utf8.DecodeRuneInString(words)
	if r == 'χ' || n == 0 {
		return words
	}
	return string(unicode.ToUpper(r)) + words[n:]
}

// A number keeps to its unit, and an interval to itself.
var (
	amount  = regexp.MustCompile(`(\d\]?) (%|W|kW|hp|N·m|N|kgf|lbf|rpm|V|A·s²|A|°C|°F|K|L/s|gpm|m/s|mph|mm|in|m|ft|kPa|psi|s|draws|drives)([\s.,;:)\]*]|$)`)
	bracket = regexp.MustCompile(`\[[^\[\]]{1,40}\]`)
)

// set fits a text for the page.
func set(words string) string {
	words = amount.ReplaceAllString(words, "$1\u00a0$2$3")
	return bracket.ReplaceAllStringFunc(words, func(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") })
}

// setAll fits every text of a list of blocks.
func setAll(list []block) {
	for i := range list {
		k := &list[i]
		k.Heading, k.Lead, k.Text = set(k.Heading), set(k.Lead), set(k.Text)
		for j := range k.Items {
			k.Items[j] = set(k.Items[j])
		}
		if k.Figure != nil {
			k.Figure.Caption = set(k.Figure.Caption)
		}
		if k.Table == nil {
			continue
		}
		k.Table.Caption = set(k.Table.Caption)
		for _, r := range k.Table.Rows {
			for j := range r.Cells {
				r.Cells[j].Text = set(r.Cells[j].Text)
			}
		}
	}
}

// section is a part of the web page with a heading of its own.
type section struct {
	ID, Title string
	Blocks    []block
}

// sheet is the whole web page.
type sheet struct {
	Title    string
	Duty     string
	Short    []block
	Sections []section
	CSS      template.CSS
}

//go:embed report.html.tmpl
var pageText string

var pageTemplate = template.Must(template.New("report").Parse(pageText))

// HTML writes the report of a drive as one page that needs nothing but itself.
func HTML(w io.Writer, a *desk.ReportAnswer, s Style) error {
	s.Colour = false
	var out strings.Builder
	b := &binder{Style: s, a: a}
	if err := pageTemplate.Execute(&out, b.sheet()); err != nil {
		return err
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// binder puts the page together and counts its figures.
type binder struct {
	Style
	a       *desk.ReportAnswer
	figures int
}

func (b *binder) figure(svg, caption string) block {
	b.figures++
	// the pencil escapes every text that it sets; see TestPageEscapes
	return block{Figure: &picture{SVG: template.HTML(svg), Number: b.figures, Caption: caption}}
}

// taken returns the blocks of a part of the text; its own heading is left out where the section
// has the same.
func (b *binder) taken(write func(*page), headings bool) []block {
	p := &page{Style: b.Style, web: true}
	write(p)
	if headings {
		return p.blocks
	}
	var out []block
	for _, k := range p.blocks {
		if k.Heading == "" {
			out = append(out, k)
		}
	}
	return out
}

func (b *binder) sheet() sheet {
	a := b.a
	s := sheet{Title: a.Name, Duty: desk.Describe(a.Condition), Short: b.short(), CSS: template.CSS(PencilCSS)}
	add := func(id, title string, blocks []block) {
		setAll(blocks)
		if len(blocks) > 0 {
			s.Sections = append(s.Sections, section{id, title, blocks})
		}
	}
	setAll(s.Short)
	add("drive", "The drive, and its state at the design point", b.drive())
	add("watts", "Where the watts go", b.watts())
	add("motor", "Efficiency of motor and controller", b.motorMap())
	add("battery", "The battery, cold and warm", b.battery())
	add("blades", "Blades", b.blades())
	add("limits", "Limits, nearest first", b.limits())
	add("strength", "Strength: shaft, blades, casing", b.strength())
	add("heat", "Heat over time, and what if", b.heat())
	add("ride", "On the water", b.ride())
	add("days", "Bench days", b.days())
	add("thrust", "Thrust against power", b.thrust())
	add("ladder", "Similarity along the ladder", b.ladder())
	add("claims", "Claims, and what the readings say", b.claims())
	add("taught", "What was learned", b.taught())
	add("next", "The next step", b.next())
	add("changes", "Changes, by what they bring", b.rank())
	add("doubt", "What is assumed, and what it matters", b.taken(func(p *page) { p.doubt(a.DutyAnswer) }, true))
	add("sources", "Sources", b.sources())
	add("notices", "Worth knowing", b.taken(func(p *page) { p.notices(a.Notices) }, false))
	add("cautions", "Cautions", b.taken(func(p *page) { p.cautions(a.Cautions) }, false))
	return s
}

// short is what a hurried reader needs.
func (b *binder) short() []block {
	a := b.a
	f := func(path string) string { return b.text(a.State.Of(path)) }
	out := []block{{Lead: "Design point:", Text: fmt.Sprintf("%s takes %s at the battery and %s at the motor shaft, at %s.",
		desk.Describe(a.Condition), f("battery_power"), f("shaft_power"), f("rotor_speed"))}}
	if a.Condition.Demand.String() != "thrust" {
		out[0].Text = fmt.Sprintf("%s gives %s of thrust, at %s.", desk.Describe(a.Condition), f("thrust"), f("rotor_speed"))
	}
	for _, v := range a.Claims {
		text := claimText(v.Claim) + ": " + v.Why + "."
		if len(v.Cases) == 1 && v.Cases[0].Calibrated.Figure != (explore.Figure{}) {
			text += " The calibrated drive shows " + b.text(from(v.Cases[0].Calibrated.Figure, unitOf(v.Unit))) + " there"
			if a.Fit == nil {
				text = strings.Replace(text, "The calibrated drive shows", "By the assumptions alone it is", 1)
			}
			text += "."
		}
		out = append(out, block{Verdict: string(v.Verdict), Text: text})
	}
	if len(a.Claims) == 0 {
		out = append(out, block{Lead: "Claims:", Text: "the design holds none."})
	}
	next := b.nextLine(a.Next, a.Reach)
	if len(a.Next.Reasons) > 0 && !a.Next.Allowed {
		next += ": " + a.Next.Reasons[0]
	}
	if len(a.Next.Watch) > 0 && a.Next.Allowed {
		next += "; watch " + strings.Join(a.Next.Watch, ", ")
	}
	out = append(out, block{Lead: "Next test at rest:", Text: next + "."})
	var count [4]int
	var broken []string
	for _, l := range a.Limits {
		count[l.State]++
		if l.State == explore.Broken {
			broken = append(broken, l.Name)
		}
	}
	limits := "none is broken"
	if len(broken) > 0 {
		limits = "broken: " + strings.Join(broken, ", ")
	}
	out = append(out, block{Lead: "Limits at the design point:", Text: fmt.Sprintf("%s; %d near, %d clear, %d not judged.", limits, count[explore.Near], count[explore.Clear], count[explore.NotJudged])})
	for _, c := range a.Cautions {
		if c.Topic == "rotating parts" {
			out = append(out, block{Lead: "Caution, " + c.Topic + ":", Text: c.Text})
		}
	}
	return out
}

func (b *binder) drive() []block {
	a := b.a
	out := []block{b.figure(
		Section{ID: "section", Drive: a.Drive, Figures: stationFigures(a.State, b.Style), Style: b.Style, Assumed: a.Untyped, Marks: strengthMarks(a.Limits, b.Style)}.SVG(),
		"Long section of the drive, to scale, at "+desk.Describe(a.Condition)+". Below each station: mean velocity, and static pressure over that of the air where the model has one; the jet leaves at 7.",
	)}
	return append(out, b.taken(func(p *page) { p.state(a.DutyAnswer) }, false)...)
}

func (b *binder) watts() []block {
	a := b.a
	out := []block{b.figure(ledgerSVG("ledger", a.DutyAnswer),
		"Every watt from the battery to thrust. Pieces that drop out of the ribbon are losses, in the order in which they arise; the widths are those of the nominal drive.")}
	return append(out, b.taken(func(p *page) { p.ledger(a.DutyAnswer) }, false)...)
}

func (b *binder) limits() []block {
	a := b.a
	g := &grid{Head: []cell{{Text: "state"}, {Text: "limit"}, {Text: "value"}, {Text: "allowed"}, {Text: "left"}, {Text: "why it matters"}}}
	for _, l := range a.Limits {
		c := b.limitCells(l)
		r := row{Heavy: l.State == explore.Broken}
		if l.NotJudged != "" {
			r.Cells = []cell{{Text: c[0], Whole: true}, {Text: c[1], Name: true}, {Text: c[5], Span: 3}, {Text: l.Why}}
		} else {
			r.Cells = []cell{{Text: c[0], Whole: true}, {Text: c[1], Name: true}, {Text: c[2]}, {Text: c[3]}, {Text: c[4], Whole: true}, {Text: l.Why}}
		}
		if l.State == explore.Broken && len(l.Moves) > 0 {
			r.Cells[len(r.Cells)-1].Text += "; moved by " + strings.Join(l.Moves, ", ")
		}
		g.Rows = append(g.Rows, r)
	}
	list := b.taken(func(p *page) { p.limits(nil, a.WaterTemp, a.Fine) }, false)
	var out []block
	for _, k := range list { // the sentences stay, the text's table does not
		if k.Table == nil {
			out = append(out, k)
		}
	}
	return append(out[:1:1], append([]block{{Table: g}}, out[1:]...)...)
}

func (b *binder) claims() []block {
	a := b.a
	var out []block
	if len(a.Claims) == 0 && len(a.Tables) == 0 {
		out = append(out, block{Text: "The design holds no promise; type a [[claim]] into drive.toml to have one judged."})
	}
	for n, v := range a.Claims {
		blocks := b.taken(func(p *page) { p.claim(v, a.Highest); p.decisive(a.Tests, n) }, true)
		for i := range blocks {
			if blocks[i].Lead == "Verdict:" {
				blocks[i] = block{Verdict: string(v.Verdict), Text: v.Why + "."}
			}
		}
		out = append(out, blocks...)
	}
	for i := range a.Tables {
		out = append(out, b.taken(func(p *page) { p.simulated(&a.Tables[i], a.Fit != nil) }, true)...)
	}
	out = append(out, b.taken(func(p *page) { p.audits(a.Audits) }, true)...)
	return append(out, b.besides()...)
}

// moves writes a shift in standard deviations; there is no −0.
func moves(shift float64) string {
	switch t := fmt.Sprintf("%+.1f", shift); t {
	case "-0.0", "+0.0":
		return "0.0"
	default:
		return strings.Replace(t, "-", "−", 1)
	}
}

// besides is the table of what was measured beside what was predicted.
func (b *binder) besides() []block {
	p := &page{Style: b.Style, web: true}
	p.plateaus(&desk.ReckonAnswer{Plateaus: b.a.Plateaus})
	var out []block
	for _, k := range p.blocks {
		if strings.HasPrefix(k.Heading, "Similarity") {
			break
		}
		if k.Heading != "" || k.Text != "" && len(out) < 3 {
			out = append(out, k)
		}
	}
	if len(b.a.Plateaus) == 0 {
		return out
	}
	if len(b.a.Plateaus) > manyReadings {
		return append(out, b.compact()...)
	}
	g := &grid{Grouped: true, Head: []cell{{Text: "figure"}, {Text: "read"}, {Text: "design"}, {Text: "calibrated"}}}
	for i, pl := range b.a.Plateaus {
		g.Rows = append(g.Rows, row{Group: fmt.Sprintf("%d · %s", i+1, b.plateauHead(pl.Plateau, pl.Plateau.Name)), Span: len(g.Head)})
		for _, cells := range b.plateauRows(pl) {
			g.Rows = append(g.Rows, row{Cells: cellsOf(cells, nil, 0)})
		}
		if pl.Why != "" {
			g.Rows = append(g.Rows, row{Cells: []cell{{Text: "no prediction: " + pl.Why, Span: 4}}})
		}
	}
	return append(out, block{Table: g})
}

// From so many readings on they stand in rows, without their intervals.
const manyReadings = 8

// channelsACompact is how many channels the rows of a compact table have.
const channelsACompact = 4

// compact is many readings beside the prediction: a row each, some channels a table.
func (b *binder) compact() []block {
	var channels []bench.Channel
	seen := map[bench.Channel]bool{}
	fitted := false
	for _, pl := range b.a.Plateaus {
		fitted = fitted || len(pl.After) > 0
		for _, f := range pl.Plateau.Figures {
			if _, ok := pl.Before[f.Channel]; ok && !seen[f.Channel] {
				seen[f.Channel] = true
				channels = append(channels, f.Channel)
			}
		}
	}
	beside := "calibrated"
	if !fitted {
		beside = "design"
	}
	var list []bench.Plateau
	for _, pl := range b.a.Plateaus {
		list = append(list, pl.Plateau)
	}
	place, same := powerPlace(list)
	powerHead := "power"
	if same && place != "" {
		powerHead += ", " + place
	}
	out := []block{{Text: "Of so many readings the figures stand without their intervals, rounded by them, and are numbered as along the ladder; the command reckon prints all."}}
	for len(channels) > 0 {
		k := share(len(channels), channelsACompact)
		head := []string{"reading", powerHead}
		for _, c := range channels[:k] {
			head = append(head, string(c)+", read", beside)
		}
		var rows [][]string
		for i, pl := range b.a.Plateaus {
			power := ""
			if w, ok := pl.Plateau.Figure(bench.Power); ok {
				power = b.bare(figureOf(w, bench.UnitOf(bench.Power)))
				if !same && pl.Plateau.PowerPlace != "" {
					power += ", " + pl.Plateau.PowerPlace
				}
			}
			r := []string{strconv.Itoa(i + 1), power}
			for _, c := range channels[:k] {
				read, model := "", ""
				if f, ok := pl.Plateau.Figure(c); ok {
					if c == bench.PhaseCurrent {
						f, _ = pl.Plateau.PhaseCurrentRMS()
					}
					read = b.bare(figureOf(f, bench.UnitOf(c)))
				}
				x, ok := pl.After[c]
				if !fitted {
					x, ok = pl.Before[c]
				}
				if ok {
					model = b.bare(x)
				}
				r = append(r, read, model)
			}
			rows = append(rows, r)
		}
		out = append(out, block{Table: newGrid(head, rows)})
		channels = channels[k:]
	}
	return out
}

func (b *binder) next() []block {
	out := b.taken(func(p *page) { p.next(b.a.Next, b.a.Reach, b.a.Highest) }, false)
	for _, c := range b.a.Cautions {
		if c.Topic == "rope and scale" || c.Topic == "winding and sensors" {
			out = append(out, block{Lead: "Caution, " + c.Topic + ":", Text: c.Text})
		}
	}
	return out
}

func (b *binder) sources() []block {
	if len(b.a.Sources) == 0 {
		return nil
	}
	var rows [][]string
	for _, s := range b.a.Sources {
		rows = append(rows, []string{s.Key, s.Author, s.Title, s.Year, s.Note})
	}
	return []block{
		{Text: "What the formulas, assumptions, limits and cautions of this page rest on; the notes say how each is known."},
		{Table: newGrid([]string{"key", "author", "title", "year", "how it is known"}, rows)},
	}
}
