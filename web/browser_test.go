package web

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"sort"
	"strings"
	"testing"
	"time"

	protocol "github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	cdp "github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"jetwright/desk"
	"jetwright/report"
)

// axe-core 4.14.1, Deque Systems, Mozilla Public License 2.0; tests only.
//
//go:embed testdata/axe.min.js
var axe string

// browser is a page of a folder in a real browser.
type browser struct {
	*testing.T
	ctx    context.Context
	folder string
	server *Server
	url    string
}

// chromium finds the browser. Where ./check says that it is needed its absence is a fault.
func chromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("JETWRIGHT_BROWSER") == "needed" {
		t.Fatal("no Chromium is found, and the tests of the page need one")
	}
	t.Skip("no Chromium is found")
	return ""
}

func open(t *testing.T, folder string, width, height int) *browser {
	t.Helper()
	path := chromium(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(folder, Options{Hosts: HostsOf(l.Addr())})
	if err != nil {
		t.Fatal(err)
	}
	served := make(chan error, 1)
	go func() { served <- Serve(l, s) }()
	t.Cleanup(func() {
		s.Close()
		_ = l.Close()
		if err := <-served; err != nil {
			t.Error(err)
		}
	})
	options := append([]cdp.ExecAllocatorOption{}, cdp.DefaultExecAllocatorOptions[:]...)
	options = append(options, cdp.ExecPath(path), cdp.NoSandbox, cdp.Flag("disable-quic", true), cdp.Flag("disable-component-update", true), cdp.Flag("disable-gpu", true), cdp.Flag("enable-unsafe-swiftshader", true),
		cdp.UserDataDir(t.TempDir()), cdp.WindowSize(width, height))
	alloc, stop := cdp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, cancel := cdp.NewContext(alloc)
	t.Cleanup(cancel)
	ctx, end := context.WithTimeout(ctx, 5*time.Minute)
	t.Cleanup(end)
	b := &browser{T: t, ctx: ctx, folder: folder, server: s, url: "http://" + l.Addr().String() + "/"}
	b.do(cdp.EmulateViewport(int64(width), int64(height)))
	go func() {
		for m, err := range cdp.Console(ctx) {
			if err != nil {
				return
			}
			if m.IsException() || m.Type == "error" && !strings.Contains(m.Text, "422") {
				t.Errorf("the browser says: %s", m.Text)
			}
		}
	}()
	b.do(cdp.Navigate(b.url), cdp.WaitVisible(cdp.CSS(".drawing .sheet svg")))
	b.wait("the intervals", `document.querySelector(".headline .lead").textContent.includes("90 %")`)
	return b
}

func (b *browser) do(steps ...cdp.Action[cdp.Void]) {
	b.Helper()
	if err := cdp.Do(b.ctx, steps...); err != nil {
		b.Fatal(err)
	}
}

func eval[T any](b *browser, script string) T {
	b.Helper()
	v, err := cdp.Run(b.ctx, cdp.Evaluate[T](script, cdp.EvalAwaitPromise))
	if err != nil {
		b.Fatalf("%v in %s", err, script)
	}
	return v
}

// wait waits until something holds.
func (b *browser) wait(what, script string) {
	b.Helper()
	for end := time.Now().Add(90 * time.Second); ; time.Sleep(30 * time.Millisecond) {
		if eval[bool](b, "!!("+script+")") {
			return
		}
		if time.Now().After(end) {
			b.shot("vain")
			b.Fatalf("waited in vain for %s; the page says: %.600s", what, eval[string](b, `[...document.querySelectorAll("[role=alert], .room.busy > h2, #reckoning .lead")].map((e) => e.innerText).join(" / ")`))
		}
	}
}

// room looks at a room until something holds there; what stands above may still move it.
func (b *browser) room(name, script string) {
	b.Helper()
	b.wait("the room "+name, fmt.Sprintf(`(document.getElementById(%q).scrollIntoView(), %s)`, name, script))
}

func (b *browser) file(name string) string {
	b.Helper()
	data, err := os.ReadFile(filepath.Join(b.folder, name))
	if err != nil {
		b.Fatal(err)
	}
	return string(data)
}

// text is the text of an element.
func (b *browser) text(css string) string {
	b.Helper()
	return eval[string](b, fmt.Sprintf(`(document.querySelector(%q)?.innerText ?? "")`, css))
}

// shot keeps a picture where a folder for pictures is named.
func (b *browser) shot(name string) {
	b.Helper()
	to := os.Getenv("JETWRIGHT_SHOTS")
	if to == "" {
		return
	}
	png, err := cdp.Run(b.ctx, cdp.CaptureScreenshot())
	if err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(to, name+".png"), png, 0o644); err != nil {
		b.Fatal(err)
	}
}

// middle is where an element lies in the window once nothing moves it any more.
func (b *browser) middle(css string) (x, y float64) {
	b.Helper()
	var last []float64
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(120 * time.Millisecond) {
		at := eval[[]float64](b, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.scrollIntoView({block: "center"}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`, css))
		if last != nil && at[0] == last[0] && at[1] == last[1] {
			return at[0], at[1]
		}
		last = at
	}
	b.Fatalf("%s does not come to rest", css)
	return 0, 0
}

// hold presses the mouse on a grip and is sure to have it.
func (b *browser) hold(css string) (x, y float64) {
	b.Helper()
	for range 5 {
		b.do(cdp.Evaluate[cdp.Void](`document.activeElement?.blur()`))
		x, y = b.middle(css)
		b.do(cdp.MouseEvent("mousePressed", x, y, cdp.ButtonLeft))
		if eval[bool](b, fmt.Sprintf(`document.activeElement === document.querySelector(%q)`, css)) {
			return x, y
		}
		b.do(cdp.MouseEvent("mouseReleased", x, y, cdp.ButtonLeft)) // it moved away under the hand
	}
	b.Fatalf("%s cannot be held", css)
	return 0, 0
}

// swipe moves a finger over the window.
func (b *browser) swipe(x, y, dx, dy float64) {
	b.Helper()
	finger := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
		b.do(cdp.Func(func(ctx context.Context, t *cdp.Target) error {
			_, err := protocol.Call(ctx, t, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: append([]*input.TouchPoint{}, points...)})
			return err
		}))
	}
	const many = 12
	finger(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y})
	for i := 1; i <= many; i++ {
		finger(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + dx*float64(i)/many, Y: y + dy*float64(i)/many})
	}
	finger(input.DispatchTouchEventTypeTouchEnd)
}

// A finger moves a dimension where it takes hold of one, scrolls the page where it does not, and chooses a part.
func TestPageTouch(t *testing.T) {
	b := open(t, sled(t), 1024, 768)
	b.do(cdp.EmulateViewport(1024, 768, cdp.EmulateTouch))
	x, y := b.middle(`.part[data-part="nozzle"]`)
	b.do(cdp.TapXY(x, y))
	b.wait("the part", `document.querySelector('.part[data-part="nozzle"]').getAttribute("aria-pressed") === "true"`)
	grip := `.grip[data-path="nozzle.diameter"]`
	before := eval[string](b, fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-valuetext")`, grip))
	x, y = b.middle(grip)
	top := eval[float64](b, `scrollY`)
	b.swipe(x, y, 0, 12)
	b.wait("what the finger moved", fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-valuetext") !== %q && document.querySelector(".acts .main").ariaDisabled !== "true"`, grip, before))
	if now := eval[float64](b, `scrollY`); now != top {
		t.Errorf("the page scrolled by %v under a hold", now-top)
	}
	if side := eval[float64](b, fmt.Sprintf(`document.querySelector(%q).getBoundingClientRect().width`, grip+" .reach")); side < 24 {
		t.Errorf("a finger has %.0f px to hit", side)
	}
	x, y = b.middle(`.part[data-part="motor"]`)
	b.swipe(x, y, 0, -90)
	b.wait("the scroll", fmt.Sprintf(`scrollY !== %v`, top))
}

// The parts are seen in three dimensions, turned by key and cut open, what would be written is shown first, and the files are written; a
// drive without sections says what is missing.
func TestPageParts(t *testing.T) {
	b := open(t, example(t, "lake-sled"), 1280, 800)
	const canvas = `document.querySelector("#export canvas")`
	b.room("export", canvas+`?.dataset.shown?.startsWith("impeller")`)
	b.room("export", `document.querySelector("#export .pieces").innerText.includes("impeller-")`)
	if _, err := os.Stat(filepath.Join(b.folder, "shapes")); err == nil {
		t.Error("files were written before anyone asked")
	}
	// what is drawn, as a count of points that are not the ground's
	drawn := func() int {
		return eval[int](b, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => { const from = `+canvas+`; const c = document.createElement("canvas"); c.width = 300; c.height = 150; const g = c.getContext("2d"); g.drawImage(from, 0, 0, 300, 150); const p = g.getImageData(0, 0, 300, 150).data; let n = 0; for (let i = 0; i < p.length; i += 4) if (Math.abs(p[i] - p[0]) + Math.abs(p[i + 1] - p[1]) + Math.abs(p[i + 2] - p[2]) > 12) n++; done(n); })))`)
	}
	b.do(cdp.Evaluate[cdp.Void](canvas + `.scrollIntoView({block: "center"})`))
	b.shot("parts")
	b.do(cdp.Evaluate[cdp.Void](canvas+`.focus()`), cdp.KeyEvent(kb.ArrowLeft), cdp.KeyEvent(kb.ArrowUp), cdp.KeyEvent("+"))
	b.do(cdp.Evaluate[cdp.Void](`[...document.querySelectorAll("#export .plain")].find((e) => e.innerText === "Half").click()`))
	eval[bool](b, `new Promise((r) => setTimeout(() => r(true), 300))`)
	b.shot("parts-cut")
	if n := drawn(); n < 800 {
		t.Errorf("%d of 45000 points are drawn", n)
	}
	b.do(cdp.Evaluate[cdp.Void](`[...document.querySelectorAll("#export .plain")].find((e) => e.innerText === "nozzle").click()`))
	b.wait("the nozzle", canvas+`.dataset.shown.startsWith("nozzle")`)
	b.do(cdp.Evaluate[cdp.Void](`[...document.querySelectorAll("#export .main")].find((e) => e.innerText.startsWith("Write")).click()`))
	b.wait("the files", `document.querySelector("#export [role=status]").innerText.includes("are written")`)
	if files, err := filepath.Glob(filepath.Join(b.folder, "shapes", "impeller*")); err != nil || len(files) == 0 {
		t.Errorf("no file of the impeller is there: %v", err)
	}

	bare := open(t, sled(t), 1280, 800)
	bare.room("export", `document.querySelector("#export .notices")?.innerText.includes("--design")`)
}

// What the runs make of a number stands beside it, told apart by a word, and what was measured on the finished part is laid over what was drawn.
func TestPageFittedAndBuilt(t *testing.T) {
	b := open(t, sled(t), 1280, 800)
	b.do(cdp.Click(cdp.CSS(`.part[data-part="impeller"]`)))
	b.wait("what the runs say", `document.querySelector(".panel .fits")?.innerText.startsWith("fitted to the runs: 0.")`)
	b.shot("fitted")
	b.do(cdp.Evaluate[cdp.Void](`(() => { const e = document.querySelector('[aria-label="what was measured"]'); e.value = "impeller.diameter"; e.dispatchEvent(new Event("change", {bubbles: true})); })()`))
	b.do(cdp.Focus(cdp.CSS(`[aria-label="as measured"]`)), cdp.KeyEvent("wide"), cdp.KeyEvent(kb.Enter))
	b.wait("the fault", `document.querySelector(".measured .notices")?.innerText.includes("wide")`)
	if eval[string](b, `document.querySelector('[aria-label="as measured"]').value`) != "wide" {
		t.Error("what was typed is lost")
	}
	b.do(cdp.Evaluate[cdp.Void](`document.querySelector('[aria-label="as measured"]').select()`), cdp.KeyEvent("93.87(2) mm"), cdp.KeyEvent(kb.Enter))
	b.wait("it as built", `document.getElementById("field-impeller.diameter").closest(".field").innerText.includes("drawn 94 mm")`)
	b.do(cdp.KeyEvent("s", cdp.KeyModifiers(cdp.ModifierCtrl)))
	b.wait("the saving", `document.querySelector(".acts .main").innerText === "Saved"`)
	if text := b.file("drive.toml"); !strings.Contains(text, "93.87(2) mm") || !strings.Contains(text, "[built") {
		t.Errorf("what was measured is not in the file:\n%s", text)
	}
}

// The page is opened, read, edited by keyboard and by hand, undone, saved, and takes a change of the file in.
func TestPageEdits(t *testing.T) {
	b := open(t, sled(t), 1280, 800)
	b.shot("edits-opened")

	// a part is chosen on the drawing with the keyboard, and a dimension typed
	b.do(cdp.Focus(cdp.CSS(`.part[data-part="nozzle"]`)), cdp.KeyEvent(kb.Enter))
	b.wait("the nozzle's panel", `document.querySelector("#panel-title")?.innerText === "nozzle" && document.activeElement.id === "panel-title"`)
	before := b.text(`.headline .num[data-path="battery_power"]`)
	const field = `document.getElementById("field-nozzle.diameter")`
	b.do(cdp.Evaluate[cdp.Void](field + `.focus(); ` + field + `.select()`))
	b.do(cdp.KeyEvent("62 mm ± 0.1 mm"), cdp.KeyEvent(kb.Enter))
	b.wait("the change", `document.querySelector(".acts .main").innerText === "Save 1 change"`)
	b.wait("a figure that follows", fmt.Sprintf(`document.querySelector('.headline .num[data-path="battery_power"]').innerText !== %q`, before))
	if d := b.text(".headline .difference"); !strings.Contains(d, "W") {
		t.Errorf("no difference from what is saved: %q", d)
	}
	if strings.Contains(b.file("drive.toml"), `"62 mm ± 0.1 mm"`) {
		t.Error("it was written before it was saved")
	}
	// nonsense stays where it was typed, with what would be right
	b.do(cdp.Evaluate[cdp.Void](field + `.focus(); ` + field + `.select()`))
	b.do(cdp.KeyEvent("62 kg"), cdp.KeyEvent(kb.Enter))
	b.wait("the fault", `document.querySelector(".field.bad .notices")?.innerText.includes("kg")`)
	if v := eval[string](b, field+".value"); v != "62 kg" {
		t.Errorf("what was typed is lost: %q", v)
	}
	b.do(cdp.KeyEvent(kb.Escape))

	// dragged
	x, y := b.hold(`.grip[data-path="nozzle.diameter"]`)
	for i := range 12 {
		b.do(cdp.MouseEvent("mouseMoved", x, y+float64(i), cdp.ButtonLeft))
	}
	b.wait("the text beside the hand", `document.querySelector(".grip.moving text")`)
	b.do(cdp.MouseEvent("mouseReleased", x, y+11, cdp.ButtonLeft))
	b.wait("what was dragged", field+`.value.endsWith("± 0.1 mm") && `+field+`.value !== "62 mm ± 0.1 mm"`)
	dragged := eval[string](b, field+".value")
	if !(dragged < "62") {
		t.Errorf("dragged inwards it is %q", dragged)
	}
	b.shot("edits-dragged")

	// undone and done again
	b.do(cdp.Focus(cdp.CSS(`.part[data-part="nozzle"]`)), cdp.KeyEvent("z", cdp.KeyModifiers(cdp.ModifierCtrl)))
	b.wait("undo", field+`.value === "62 mm ± 0.1 mm"`)
	b.do(cdp.KeyEvent("y", cdp.KeyModifiers(cdp.ModifierCtrl)))
	b.wait("redo", fmt.Sprintf("%s.value === %q", field, dragged))
	b.do(cdp.KeyEvent("z", cdp.KeyModifiers(cdp.ModifierCtrl)))
	b.wait("undo", field+`.value === "62 mm ± 0.1 mm"`)

	// saved, everything around it as it was
	b.do(cdp.KeyEvent("s", cdp.KeyModifiers(cdp.ModifierCtrl)))
	b.wait("the saving", `document.querySelector(".acts .main").innerText === "Saved"`)
	text := b.file("drive.toml")
	if !strings.Contains(text, `diameter    = "62 mm ± 0.1 mm"`) || !strings.Contains(text, "# 15 mm parallel land") {
		t.Error("saved without what stood around it")
	}

	// the file is changed by someone else
	if err := os.WriteFile(filepath.Join(b.folder, "drive.toml"), []byte(strings.Replace(text, `"62 mm ± 0.1 mm"`, `"63 mm"`, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	b.wait("the file's change", field+`.value === "63 mm"`)
	// both change the same key
	b.do(cdp.Evaluate[cdp.Void](field + `.focus(); ` + field + `.select()`))
	b.do(cdp.KeyEvent("64 mm"), cdp.KeyEvent(kb.Enter))
	b.wait("the own change", `document.querySelector(".acts .main").innerText === "Save 1 change"`)
	if err := os.WriteFile(filepath.Join(b.folder, "drive.toml"), []byte(strings.Replace(text, `"62 mm ± 0.1 mm"`, `"65 mm"`, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	b.wait("the question", `document.querySelector(".notices q")?.innerText.includes("65 mm")`)
	b.shot("edits-asked")
	b.do(cdp.Evaluate[cdp.Void](`[...document.querySelectorAll(".notices button")].find((e) => e.innerText.startsWith("Keep")).click()`))
	b.wait("the answer", `!document.querySelector(".notices q")`)
	b.do(cdp.KeyEvent("s", cdp.KeyModifiers(cdp.ModifierCtrl)))
	b.wait("the saving", `document.querySelector(".acts .main").innerText === "Saved"`)
	if !strings.Contains(b.file("drive.toml"), `"64 mm"`) {
		t.Error("the answer was not written")
	}

	// a file that cannot be read: the last state stays, greyed and dated
	good := b.file("drive.toml")
	if err := os.WriteFile(filepath.Join(b.folder, "drive.toml"), []byte(strings.Replace(good, `"64 mm"`, `"64 m`, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	b.wait("the fault", `document.querySelector(".faults")?.innerText.includes("drive.toml:")`)
	if b.text(`.headline .num`) == "" {
		t.Error("the last state that stood went")
	}
	if !eval[bool](b, `["headline", "draft", "limits", "ledger"].every((c) => document.querySelector("." + c).closest(".old, .board.old")) && / at \d/.test(document.querySelector(".faults h2").innerText)`) {
		t.Error("the last state that stood is neither greyed nor dated")
	}
	b.shot("edits-broken")
	b.do(cdp.Evaluate[cdp.Void](axe + "; undefined"))
	if faint := eval[string](b, `axe.run(document, {runOnly: ["color-contrast"]}).then((r) => r.violations.flatMap((v) => v.nodes.map((n) => n.html.slice(0, 120))).join(" | "))`); faint != "" {
		t.Errorf("greyed it cannot be read: %s", faint)
	}
	if err := os.WriteFile(filepath.Join(b.folder, "drive.toml"), []byte(good), 0o644); err != nil {
		t.Fatal(err)
	}
	b.wait("the recovery", `!document.querySelector(".faults")`)

	// a drive without a state at the condition
	b.do(cdp.Evaluate[cdp.Void](`(() => { const e = document.querySelector('[aria-label="amount"]'); e.focus(); e.select(); })()`))
	b.do(cdp.KeyEvent("5000 N"), cdp.KeyEvent(kb.Enter))
	b.wait("why there is none", `document.querySelector(".faults")?.innerText.includes("last that stood")`)
	b.shot("edits-no-state")
}

// What is still in the hand when it is saved or taken back counts: a text half typed, a step that has not settled. A number that was
// measured on the part moves where it stands, and whole numbers and those that may be left out move too.
func TestPageInHand(t *testing.T) {
	folder := sled(t)
	file := filepath.Join(folder, "drive.toml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, append(text, "\n[built]\nnozzle.diameter = \"60.3 mm ± 0.05 mm\"\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	b := open(t, folder, 1280, 800)
	saved := func(what, want string) {
		t.Helper()
		for end := time.Now().Add(20 * time.Second); !strings.Contains(b.file("drive.toml"), want); time.Sleep(30 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("%s: %s is not in the file", what, want)
			}
		}
		b.wait(what, `document.querySelector(".acts .main").innerText === "Saved"`)
	}
	field := func(path string) string { return fmt.Sprintf("document.getElementById(%q)", "field-"+path) }

	// dragged where it was measured
	power := b.text(`.headline .num[data-path="battery_power"]`)
	x, y := b.hold(`.grip[data-path="nozzle.diameter"]`)
	b.do(cdp.MouseEvent("mouseMoved", x, y+6, cdp.ButtonLeft))
	b.wait("the figures that follow", fmt.Sprintf(`document.querySelector('.headline .num[data-path="battery_power"]').innerText !== %q`, power))
	b.do(cdp.MouseEvent("mouseReleased", x, y+6, cdp.ButtonLeft))
	b.wait("what was dragged", `document.querySelector(".acts .main").innerText === "Save 1 change"`)
	b.do(cdp.Click(cdp.CSS(".acts .main")))
	saved("what was dragged", `diameter    = "60 mm ± 0.2 mm"`)
	if strings.Contains(b.file("drive.toml"), `"60.3 mm`) {
		t.Error("what was measured did not move")
	}

	b.do(cdp.Click(cdp.CSS(`.part[data-part="impeller"]`)))
	b.wait("the impeller's panel", field("impeller.tip_gap"))
	// half typed, and Save clicked
	b.do(cdp.Evaluate[cdp.Void](field("impeller.length")+`.focus(); `+field("impeller.length")+`.select()`), cdp.KeyEvent("56 mm"), cdp.Click(cdp.CSS(".acts .main")))
	saved("a text half typed, clicked", `"56 mm"`)
	b.do(cdp.Evaluate[cdp.Void](field("impeller.length")+`.focus(); `+field("impeller.length")+`.select()`), cdp.KeyEvent("57 mm"), cdp.KeyEvent("s", cdp.KeyModifiers(cdp.ModifierCtrl)))
	saved("a text half typed, by key", `"57 mm"`)
	// a step, saved before it has settled
	b.do(cdp.Evaluate[cdp.Void](field("impeller.tip_gap")+`.focus()`), cdp.KeyEvent(kb.ArrowUp), cdp.KeyEvent("s", cdp.KeyModifiers(cdp.ModifierCtrl)))
	saved("a step", `"0.605 mm ± 0.2 mm"`)
	b.do(cdp.Evaluate[cdp.Void](field("impeller.blades")+`.focus()`), cdp.KeyEvent(kb.ArrowUp))
	b.wait("another blade", field("impeller.blades")+`.value === "5"`)
	// the part's charts follow, and stand beside its dimensions
	b.wait("the part's charts", `document.querySelector(".charts figcaption")?.innerText.includes("impeller.diameter") && document.querySelector(".charts svg")`)
	// every name that a screen reader follows leads to one place
	if twice := eval[string](b, `(() => { const all = [...document.querySelectorAll("[id]")].map((e) => e.id); return all.filter((x, i) => all.indexOf(x) !== i).join(" "); })()`); twice != "" {
		t.Errorf("ids that stand twice: %s", twice)
	}
	// taken back where it was stepped, without leaving the field
	b.do(cdp.KeyEvent("z", cdp.KeyModifiers(cdp.ModifierCtrl)))
	b.wait("the blades as before", field("impeller.blades")+`.value === "4" && document.querySelector(".acts .main").innerText === "Saved"`)
}

// At least fifty numbers on the page are those of the command line.
func TestPageNumbers(t *testing.T) {
	b := open(t, sled(t), 1280, 800)
	a, err := desk.LimitsIn(b.folder, desk.Options{})
	if err != nil {
		t.Fatal(err)
	}
	j, err := report.JSON(a, report.Style{})
	if err != nil {
		t.Fatal(err)
	}
	var told struct {
		Limits []map[string]any
		State  map[string]any
		Ledger []struct {
			Path  string
			Power struct{ Text string } `json:"power_W"`
		}
	}
	if err := json.Unmarshal(j, &told); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	var walk func(prefix string, m map[string]any)
	walk = func(prefix string, m map[string]any) {
		for k, v := range m {
			o, ok := v.(map[string]any)
			if !ok {
				continue
			}
			if text, ok := o["text"].(string); ok {
				want[prefix+k] = text
				continue
			}
			walk(prefix+k+".", o)
		}
	}
	walk("", told.State)
	shown := eval[[][2]string](b, `[...document.querySelectorAll(".num")].map((e) => [e.dataset.path, e.textContent])`)
	equal := 0
	for _, s := range shown {
		found := ""
		for k, text := range want {
			if k == s[0] || strings.HasPrefix(k, s[0]+"_") && text == s[1] {
				found = text
			}
		}
		for _, l := range told.Ledger {
			if l.Path == s[0] && l.Power.Text == s[1] {
				found = l.Power.Text
			}
		}
		if found != s[1] {
			t.Errorf("%s is %q on the page, %q by the command line", s[0], s[1], found)
			continue
		}
		equal++
	}
	limits := eval[[][3]string](b, `[...document.querySelectorAll("[data-limit]")].map((e) => [e.dataset.limit, e.dataset.value, e.dataset.allowed])`)
	for _, s := range limits {
		for _, l := range told.Limits {
			if l["name"] != s[0] {
				continue
			}
			var texts []string
			for k, v := range l {
				if o, ok := v.(map[string]any); ok && (strings.HasPrefix(k, "value") || strings.HasPrefix(k, "allowed")) {
					texts = append(texts, o["text"].(string))
				}
			}
			for _, part := range s[1:] {
				if !contains(texts, part) {
					t.Errorf("limit %s is %q on the page, %q by the command line", s[0], part, texts)
					continue
				}
				equal++
			}
		}
	}
	if equal < 50 {
		t.Errorf("only %d numbers were compared", equal)
	}
	t.Logf("%d numbers on the page are those of the command line", equal)

	// any figure says where it comes from
	b.do(cdp.Click(cdp.CSS(`.figures .num[data-path="jet.head"]`)))
	b.wait("the explanation", `document.querySelector("dialog.explanation[open]")?.innerText.includes("pump head")`)
	b.shot("numbers-explained")
	b.do(cdp.KeyEvent(kb.Escape))
	b.wait("its end", `!document.querySelector("dialog.explanation")`)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// messy is a log with a preamble, decimal commas, words among numbers and a name that says nothing.
func messy() string {
	var out strings.Builder
	out.WriteString("Aufzeichnung vom Steg\r\n\r\nzeit;leistung W;zug kgf;x1\r\n")
	for i := range 300 {
		p, f := 0, 0.0
		switch {
		case i >= 40 && i < 140:
			p, f = 900, 12
		case i >= 140 && i < 250:
			p, f = 1400, 16.5
		}
		if i == 77 {
			out.WriteString("77;Fehler;;\r\n")
			continue
		}
		fmt.Fprintf(&out, "%d;%d;%s;%d\r\n", i, p+i%2, strings.Replace(fmt.Sprintf("%.2f", f+0.02*float64(i%3)), ".", ",", 1), 2200+i%2)
	}
	return out.String()
}

// Messy logs are dropped, a guess is corrected, plateaus are seen, a reading is typed in, the verdict is read, and
// the page is printed.
func TestPageBench(t *testing.T) {
	b := open(t, sled(t), 1280, 800)
	log := filepath.Join(t.TempDir(), "steg.csv")
	if err := os.WriteFile(log, []byte(messy()), 0o644); err != nil {
		t.Fatal(err)
	}
	b.do(cdp.Evaluate[cdp.Void](`document.getElementById("bench").scrollIntoView()`))
	b.do(cdp.SetUploadFiles(cdp.CSS("#logs"), []string{log}))
	b.wait("the guess", `document.querySelector(".guessed td")`)
	b.shot("bench-guess")
	if eval[string](b, `document.querySelector('[aria-label="channel of x1"]').value`) != "" {
		t.Error("a column that says nothing was guessed")
	}
	b.do(cdp.Evaluate[cdp.Void](`(() => { const e = document.querySelector('[aria-label="channel of x1"]'); e.value = "rotor speed"; e.dispatchEvent(new Event("change", {bubbles: true})); })()`))
	b.wait("its unit", `document.querySelector('[aria-label="unit of x1"]')?.value === "rpm"`)
	b.do(cdp.Evaluate[cdp.Void](`(() => { const e = document.getElementById("run-name"); e.value = "2026-06-01"; e.dispatchEvent(new Event("input", {bubbles: true})); e.dispatchEvent(new Event("change", {bubbles: true})); })()`))
	b.do(cdp.Evaluate[cdp.Void](`[...document.querySelectorAll(".drop .main")].find((e) => e.innerText.startsWith("Adopt")).click()`))
	b.wait("the run", `[...document.querySelectorAll('[aria-label="run"] option')].some((o) => o.value === "2026-06-01")`)
	if !strings.Contains(b.file("runs/2026-06-01/run.toml"), "x1 [rpm] = rotor speed") {
		t.Error("the correction is not in run.toml")
	}
	if b.file("runs/2026-06-01/steg.csv") != messy() {
		t.Error("the log is not what was dropped")
	}
	b.do(cdp.Evaluate[cdp.Void](`(() => { const e = document.querySelector('[aria-label="run"]'); e.value = "2026-06-01"; e.dispatchEvent(new Event("change", {bubbles: true})); })()`))
	b.wait("its traces", `document.querySelector(".traces svg")?.textContent.includes("2026-06-01")`)
	whole := eval[string](b, `document.querySelector(".traces .sheet").innerHTML`)
	b.do(cdp.Focus(cdp.CSS(".traces .window")), cdp.KeyEvent("+"))
	b.wait("the closer look", fmt.Sprintf(`document.querySelector(".traces .sheet").innerHTML.length > 0 && document.querySelector(".traces .sheet").innerHTML !== %s`, string(mustJSON(t, whole))))
	b.do(cdp.Evaluate[cdp.Void](`(() => { const e = document.getElementById("budget"); e.value = "1"; e.dispatchEvent(new Event("change", {bubbles: true})); })()`))
	b.wait("the budget", `document.querySelector("dialog.explanation[open]")?.innerText.includes("scale")`)
	b.shot("bench-budget")
	b.do(cdp.KeyEvent(kb.Escape))

	// a reading typed in with the keyboard alone
	b.do(cdp.Focus(cdp.CSS(`.reading [name="power"]`)), cdp.KeyEvent("1.8 kW"), cdp.KeyEvent(kb.Tab), cdp.KeyEvent("20.1 kgf"), cdp.KeyEvent(kb.Tab), cdp.KeyEvent("2860 rpm"), cdp.KeyEvent(kb.Enter))
	b.wait("the reading", `document.querySelector(".reading [role=status]").innerText.startsWith("Kept")`)
	day := time.Now().Format("2006-01-02")
	if text := b.file("runs/" + day + "/run.toml"); !strings.Contains(text, `"1.8 kW"`) || !strings.Contains(text, `"20.1 kgf"`) || !strings.Contains(text, `"battery"`) {
		t.Errorf("the reading is not what was typed:\n%s", text)
	}
	// and one of another day
	b.do(cdp.Focus(cdp.CSS(`.reading [name="run"]`)), cdp.KeyEvent("2026-06-07"), cdp.Focus(cdp.CSS(`.reading [name="power"]`)), cdp.KeyEvent("2.1 kW"), cdp.KeyEvent(kb.Tab), cdp.KeyEvent("22 kgf"), cdp.KeyEvent(kb.Enter))
	b.wait("the reading of another day", `document.querySelector(".reading [role=status]").innerText === "Kept: 2.1 kW"`)
	if text := b.file("runs/2026-06-07/run.toml"); !strings.Contains(text, `"2.1 kW"`) {
		t.Errorf("the reading of another day is not there:\n%s", text)
	}
	b.do(cdp.Focus(cdp.CSS(`.reading [name="power"]`)), cdp.KeyEvent("lots"), cdp.KeyEvent(kb.Enter))
	b.wait("the fault", `document.querySelector(".reading .notices")?.innerText.includes("lots")`)
	if eval[string](b, `document.querySelector('.reading [name="power"]').value`) != "lots" {
		t.Error("what was typed is lost")
	}

	b.room("reckoning", `document.querySelector("#reckoning .verdict")`)
	b.shot("bench-verdict")
	if v := strings.ToLower(b.text("#reckoning .verdict")); !contains([]string{"supported", "open", "unlikely", "refuted"}, v) {
		t.Errorf("the verdict is %q", v)
	}
	// a key that stands in a room says what its number is
	b.room("tonight", `document.querySelector('#tonight .pieces .num[data-path]')`)
	path := eval[string](b, `(() => { const e = document.querySelector('#tonight .pieces .num[data-path]'); e.click(); return e.dataset.path; })()`)
	b.wait("its explanation", fmt.Sprintf(`document.querySelector("dialog.explanation[open]")?.innerText.includes(%q)`, path))
	b.do(cdp.KeyEvent(kb.Escape))
	b.room("heat", `document.querySelector("#heat .pieces table") && document.querySelector("#heat figure svg.pencil")`)
	b.shot("bench-heat")
	b.room("ride", `document.querySelector("#ride .pieces table") && document.querySelector("#ride figure svg.pencil")`)
	b.shot("bench-ride")
	pdf, err := cdp.Run(b.ctx, cdp.PrintToPDF(cdp.PDFPaper(cdp.PaperA4)))
	if err != nil || !strings.HasPrefix(string(pdf), "%PDF") || len(pdf) < 50_000 {
		t.Errorf("printed: %d bytes, %v", len(pdf), err)
	}
}

// The room of the blades shows own blades with their pictures and what the duty asks for; without own blades it says what is missing.
func TestPageBlades(t *testing.T) {
	for _, scene := range []struct {
		name, folder string
		figures      int
		want         []string
	}{
		{"lake", example(t, "lake-sled"), 4, []string{"Impeller: 5 blades, section by section", "To type into drive.toml", "What making them has to hold", "impeller.outlet_angle_offset"}},
		{"sled", sled(t), 0, []string{"The blades are not drawn yet", "impeller.chord", "Stator: ", "To type into drive.toml"}},
	} {
		b := open(t, scene.folder, 1280, 800)
		b.room("blades", `document.querySelector("#blades .pieces pre")`)
		text := b.text("#blades")
		for _, w := range scene.want {
			if !strings.Contains(text, w) {
				t.Errorf("%s: the room does not say %q", scene.name, w)
			}
		}
		if n := eval[int](b, `document.querySelectorAll("#blades figure svg").length`); n != scene.figures {
			t.Errorf("%s: %d pictures", scene.name, n)
		}
		b.do(cdp.Evaluate[cdp.Void](axe + "; undefined"))
		for _, theme := range []string{"light", "dark"} {
			b.do(cdp.Evaluate[cdp.Void](fmt.Sprintf(`(() => { const e = document.querySelector('[aria-label="light or dark"]'); e.value = %q; e.dispatchEvent(new Event("change", {bubbles: true})); })()`, theme)))
			b.wait("the theme", fmt.Sprintf(`document.documentElement.dataset.theme === %q`, theme))
			parts := eval[int](b, `document.querySelectorAll("#blades :is(.piece, figure)").length`)
			for i := range parts {
				b.do(cdp.Evaluate[cdp.Void](fmt.Sprintf(`document.querySelectorAll("#blades :is(.piece, figure)")[%d].scrollIntoView()`, i)))
				b.shot(fmt.Sprintf("blades-%s-%s-%d", scene.name, theme, i))
			}
			for _, v := range eval[[]string](b, `axe.run(document.getElementById("blades"), {resultTypes: ["violations"]}).then((r) => r.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => v.id + ": " + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(" | ")))`) {
				t.Errorf("%s, %s: %s", scene.name, theme, v)
			}
			if wide := eval[float64](b, `document.documentElement.scrollWidth - innerWidth`); wide > 0 {
				t.Errorf("%s: the page is %g px wider than the window", scene.name, wide)
			}
		}
	}
}

// A press of a key and a drag are drawn at once, with an estimated pump and with blades; the times are printed. No bound
// is set on them here: they are this machine's.
func TestPageTimes(t *testing.T) {
	if os.Getenv("JETWRIGHT_TIMES") == "" {
		t.Skip("times are measured by themselves: JETWRIGHT_TIMES=1")
	}
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program has it
	for _, scene := range []struct{ what, folder string }{{"an estimated pump", sled(t)}, {"a pump of blades", example(t, "lake-sled")}} {
		b := open(t, scene.folder, 1280, 800)
		const grip = `.grip[data-path="nozzle.diameter"]`
		b.do(cdp.Focus(cdp.CSS(grip)))
		ticks := func(what string, move func(i int)) {
			const many = 60
			eval[int](b, `(window.jetwrightTimings.length = 0)`)
			for i := range many {
				n := eval[int](b, `window.jetwrightTimings.length`)
				move(i)
				b.wait(fmt.Sprintf("tick %d of %s", i, what), fmt.Sprintf(`window.jetwrightTimings.length > %d`, n))
			}
			times := eval[[]float64](b, `window.jetwrightTimings`)
			if len(times) < many {
				t.Errorf("%s, %s: %d ticks were drawn", scene.what, what, len(times))
			}
			sort.Float64s(times)
			t.Logf("%s, %s to pictures: median %.0f ms, 95th percentile %.0f ms of %d", scene.what, what, times[len(times)/2], times[len(times)*95/100], len(times))
		}
		ticks("a key", func(i int) {
			key := kb.ArrowUp
			if i%4 > 1 {
				key = kb.ArrowDown
			}
			b.do(cdp.KeyEvent(key))
		})
		// ticks go over the line that stays open: requests are those of intervals
		if n := eval[int](b, `performance.getEntriesByType("resource").filter((e) => e.name.endsWith("/api/state")).length`); n > 80 {
			t.Errorf("%d requests for states beside the line", n)
		}
		x, y := b.hold(grip)
		ticks("a drag", func(i int) { b.do(cdp.MouseEvent("mouseMoved", x, y+float64(1+i%8), cdp.ButtonLeft)) })
		b.do(cdp.MouseEvent("mouseReleased", x, y+8, cdp.ButtonLeft))
		// a hand that rests is given intervals
		eval[int](b, `(window.jetwrightFollowed.length = 0)`)
		b.do(cdp.Focus(cdp.CSS(grip)))
		for i := range 12 {
			b.do(cdp.KeyEvent(kb.ArrowUp))
			b.wait("the intervals", fmt.Sprintf(`window.jetwrightFollowed.length > %d`, i))
		}
		followed := eval[[]float64](b, `window.jetwrightFollowed`)
		sort.Float64s(followed)
		t.Logf("%s, a key to intervals: median %.0f ms, longest %.0f ms of %d", scene.what, followed[len(followed)/2], followed[len(followed)-1], len(followed))
		paint := eval[float64](b, `performance.getEntriesByType("paint").find((e) => e.name === "first-contentful-paint").startTime`)
		size := eval[float64](b, `performance.getEntriesByType("resource").reduce((n, e) => n + (e.name.includes("/static/") ? e.encodedBodySize : 0), 0)`)
		t.Logf("%s: first paint %.0f ms; script and style %.0f kB", scene.what, paint, size/1000)
	}
}

// Nothing serious is found by axe-core, in light and dark, at three sizes.
func TestPageForEveryone(t *testing.T) {
	b := open(t, sled(t), 1280, 800)
	b.do(cdp.Click(cdp.CSS(`.part[data-part="motor"]`)))
	for _, room := range []string{"bench", "reckoning", "heat"} {
		b.room(room, fmt.Sprintf(`document.querySelector("#%s .pieces").children.length > 0`, room))
	}
	b.do(cdp.Evaluate[cdp.Void](axe + "; undefined"))
	for _, size := range [][2]int64{{1280, 800}, {1024, 768}, {768, 1024}} {
		b.do(cdp.EmulateViewport(size[0], size[1]))
		for _, theme := range []string{"light", "dark"} {
			b.do(cdp.Evaluate[cdp.Void](fmt.Sprintf(`(() => { scrollTo(0, 0); const e = document.querySelector('[aria-label="light or dark"]'); e.value = %q; e.dispatchEvent(new Event("change", {bubbles: true})); })()`, theme)))
			b.wait("the theme", fmt.Sprintf(`document.documentElement.dataset.theme === %q`, theme))
			b.shot(fmt.Sprintf("page-%dx%d-%s", size[0], size[1], theme))
			found := eval[[]string](b, `axe.run(document, {resultTypes: ["violations"], rules: {region: {enabled: true}}}).then((r) => r.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => v.id + ": " + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(" | ")))`)
			for _, v := range found {
				t.Errorf("%dx%d, %s: %s", size[0], size[1], theme, v)
			}
			if wide := eval[float64](b, `document.documentElement.scrollWidth - innerWidth`); wide > 0 {
				t.Errorf("%dx%d: the page is %g px wider than the window", size[0], size[1], wide)
			}
		}
	}
}
