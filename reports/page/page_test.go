package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

const in = measure.Inch

func inches(num, den int64) measure.Ratio { return in.Ratio().Mul(measure.Frac(num, den)) }

// twoSlots is the worked program of a 3/32 kerf on 16 turns an inch, two slots
// of it: four cuts a turn apart, six turns past the pin, four cuts more.
func twoSlots() jigplan.Program {
	p := jigplan.Program{ID: "J1", Rows: jigplan.BothRows, Regular: true, Rod: "3/8-16", Lead: inches(1, 16), Kerf: 3 * in / 32,
		KerfMeasured: true, Slot: inches(9, 32), Pin: inches(9, 32), Spacer: inches(9, 32), ReturnTurns: measure.Whole(12)}
	for slot := range int64(2) {
		for cut := range int64(4) {
			turns := measure.Whole(1)
			if cut == 0 {
				turns = measure.Whole(slot * 6)
			}
			p.Steps = append(p.Steps, jigplan.Step{Slot: int(slot) + 1, Cut: int(cut) + 1, Turns: turns,
				TotalTurns: measure.Whole(slot*9 + cut), Clock: "12", Travel: inches(slot*9+cut, 16)})
		}
	}
	return p
}

// twoStacks is a plan of that program and two stack ends; a part's name tries
// to end the script.
func twoStacks() *jigplan.Plan {
	p := &jigplan.Plan{Order: &orders.Order{File: `</title><script>alert(1)</script>.xlsx`, Settings: settings.Default()}, Programs: []jigplan.Program{twoSlots()}}
	p.Setups = []jigplan.Setup{{ID: "U1", Program: "J1", Blade: "3/32 in", BladeHeight: 33 * in / 64, Spacer: inches(9, 32), Stacks: []string{"K1", "K2"}}}
	for end := 1; end <= 2; end++ {
		p.Stacks = append(p.Stacks, jigplan.Stack{ID: fmt.Sprintf("K%d", end), Setup: "U1", End: end, Minutes: 6,
			Boards: []jigplan.StackBoard{{Part: "</script><b>S1", Row: orders.RowA}, {Part: "E1", Row: orders.RowB}}})
	}
	return p
}

func counted(t *testing.T) []byte {
	t.Helper()
	data, err := Count(twoStacks())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The page stands alone: it names no address, and the browser is told to fetch
// nothing.
func TestPageStandsAlone(t *testing.T) {
	text := string(counted(t))
	own := strings.ReplaceAll(text, "http://www.w3.org/2000/svg", "") // a name, never fetched
	for _, mark := range []string{"http:", "https:", "src=", "@import", "url("} {
		if strings.Contains(own, mark) {
			t.Errorf("the page contains %q", mark)
		}
	}
	if !strings.Contains(text, "default-src 'none'") {
		t.Error("the page may fetch from the network")
	}
	if n := strings.Count(text, "<script>"); n != 1 {
		t.Errorf("%d scripts: text of the order became markup", n)
	}
}

func TestSamePlanSamePage(t *testing.T) {
	if !bytes.Equal(counted(t), counted(t)) {
		t.Error("two pages of one plan differ")
	}
}

// browser runs the page in headless Chromium with a script of the test's at its
// end, and gives back what that script puts into the result. The profile folder
// keeps what the page stores from run to run.
func browser(t *testing.T, profile, page, address, script string) map[string]any {
	t.Helper()
	chromium := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			chromium = path
			break
		}
	}
	if chromium == "" {
		t.Skip("skipped: no Chromium is installed to open the page with")
	}
	if testing.Short() {
		t.Skip("skipped: a browser takes seconds, and -short was given")
	}
	withTest := strings.Replace(page, "</body>", "<script>"+driver+script+"</script></body>", 1)
	file := filepath.Join(profile, "count.html")
	if err := os.WriteFile(file, []byte(withTest), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(chromium, "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--window-size=412,860",
		"--user-data-dir="+filepath.Join(profile, "profile"), "--virtual-time-budget=30000", "--dump-dom", "file://"+filepath.ToSlash(file)+address)
	var out bytes.Buffer
	cmd.Stdout = &out
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	stop := time.AfterFunc(60*time.Second, func() { cmd.Process.Kill() })
	defer stop.Stop()
	if err := cmd.Wait(); err != nil {
		t.Fatalf("the browser ended: %v", err)
	}
	closed(filepath.Join(profile, "profile"))
	m := regexp.MustCompile(`(?s)<pre id="result">(.*?)</pre>`).FindSubmatch(out.Bytes())
	if m == nil {
		t.Fatalf("the page gave no result; it reads\n%.600s", out.String())
	}
	var result map[string]any
	if err := json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &result); err != nil {
		t.Fatal(err)
	}
	return result
}

// closed waits until a browser has let go of its profile: what a page stored is
// there for the next one only then.
func closed(profile string) {
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if _, err := os.Lstat(filepath.Join(profile, "SingletonLock")); err != nil {
			return
		}
	}
}

// driver presses keys as pedals do and reads the page as a person does.
const driver = `
const result = {};
const wait = ms => new Promise(f => setTimeout(f, ms));
const read = id => document.getElementById(id).textContent;
async function press(key, repeat) {
  document.dispatchEvent(new KeyboardEvent("keydown", { key: key, repeat: !!repeat, bubbles: true, cancelable: true }));
  await wait(300);
}
async function tap(id) { document.getElementById(id).click(); await wait(300); }
async function report(f) {
  try { await f(); } catch (e) { result.error = String(e); }
  const pre = document.createElement("pre");
  pre.id = "result";
  pre.textContent = JSON.stringify(result);
  document.body.appendChild(pre);
}
`

func TestCountingInABrowser(t *testing.T) {
	profile := t.TempDir()
	page := string(counted(t))
	got := browser(t, profile, page, "", `
report(async () => {
  result.start = read("place");
  result.boards = read("now");
  await press(" ");
  result.spacer = read("now");
  await press(" ");
  result.takeout = read("now");
  await press(" ");
  result.first = read("place") + " | " + read("now") + " | " + read("done") + " | " + read("next") + " | " + read("left");
  await press(" ", true);
  result.repeat = read("place");
  await press("PageDown"); await press("ArrowRight"); await press("Enter"); await tap("step");
  result.past = read("place") + " | " + read("now") + " | " + read("also");
  await press("PageUp");
  result.back = read("place");
  document.dispatchEvent(new KeyboardEvent("keydown", { key: " ", bubbles: true }));
  document.dispatchEvent(new KeyboardEvent("keydown", { key: " ", bubbles: true }));
  await wait(300);
  result.bounce = read("place");
  const style = e => parseFloat(getComputedStyle(e).fontSize);
  const figure = document.querySelector(".figure");
  const canvas = document.createElement("canvas").getContext("2d");
  canvas.font = "bold " + style(figure) + "px " + getComputedStyle(figure).fontFamily;
  result.mm = canvas.measureText("4").actualBoundingBoxAscent / 96 * 25.4;
  result.share = document.getElementById("step").getBoundingClientRect().height / innerHeight;
  result.hidden = ["place", "now", "also", "done", "next", "left", "step", "back"].filter(id => {
    const r = document.getElementById(id).getBoundingClientRect();
    return r.left < 0 || r.top < 0 || r.right > innerWidth + 0.5 || r.bottom > innerHeight + 0.5 || r.height === 0;
  }).join(" ");
  const main = document.querySelector("main");
  result.scrolls = main.scrollHeight > main.clientHeight + 1 || document.documentElement.scrollWidth > innerWidth;
  result.hash = location.hash;
});`)
	want := map[string]string{
		"start":   "Jig J1: load </script><b>S1, E1, stack 1, end 1",
		"spacer":  "Put in spacer S1, 9/32 in, behind row A. Row B against it. Clamp.",
		"takeout": "Take the spacer out.",
		"first":   "slot 1 of 2, cut 1 of 4 | do not turn yet0wheel at0 | done: Take the spacer out. | next: turn 1, then cut: slot 1 of 2, cut 2 of 4 | left: 8 cuts of 8",
		"repeat":  "slot 1 of 2, cut 1 of 4", // a key held down is one press
		"past":    "slot 2 of 2, cut 1 of 4 | past the pin, turn6wheel at9 | rule 9/16 in",
		"back":    "slot 1 of 2, cut 4 of 4",
		"bounce":  "slot 2 of 2, cut 1 of 4", // a pedal that bounces is one press
	}
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s reads %q, want %q", name, got[name], text)
		}
	}
	if !strings.Contains(fmt.Sprint(got["boards"]), "row A: </script><b>S1") {
		t.Errorf("the boards read %q", got["boards"])
	}
	if mm, _ := got["mm"].(float64); mm < 22 {
		t.Errorf("figures are %.1f mm high, want 22", mm)
	}
	if share, _ := got["share"].(float64); share < 0.35 {
		t.Errorf("the step button takes %.2f of the screen", share)
	}
	if got["hidden"] != "" || got["scrolls"] != false {
		t.Errorf("done, next and left are always shown: hidden %q, scrolls %v", got["hidden"], got["scrolls"])
	}
	keptPlace(t, profile, page, fmt.Sprint(got["hash"]))
}

// keptPlace opens the page again: from the store, from the address alone in
// another browser, and with an address that means nothing.
func keptPlace(t *testing.T, profile, page, hash string) {
	const look = `report(async () => { result.place = read("place"); });`
	place := "slot 2 of 2, cut 1 of 4"
	for _, c := range []struct{ why, profile, address, want string }{
		{"from the store", profile, "", place},
		{"from the address in a fresh browser", t.TempDir(), hash, place},
		{"an older address yields to the store", profile, "#r0i2n1d", place},
		{"an address out of range is left aside", t.TempDir(), "#r9i9n9d9", "Jig J1: load </script><b>S1, E1, stack 1, end 1"},
	} {
		if got := browser(t, c.profile, page, c.address, look); got["place"] != c.want {
			t.Errorf("%s: the page stands at %q, want %q", c.why, got["place"], c.want)
		}
	}
	other := twoStacks()
	other.Stacks[0].Boards[1].Part = "E9"
	data, err := Count(other)
	if err != nil {
		t.Fatal(err)
	}
	if got := browser(t, profile, string(data), "", look); got["place"] != "Jig J1: load </script><b>S1, E9, E1, stack 1, end 1" {
		t.Errorf("another plan inherits the place: %q", got["place"])
	}
}

// A whole batch, to the last stack, with the winding back between.
func TestCountingToTheEnd(t *testing.T) {
	got := browser(t, t.TempDir(), string(counted(t)), "", `
report(async () => {
  const places = [];
  for (let k = 0; k < 26; k++) { await press(" "); places.push(read("place")); }
  result.back = places[10]; result.cut = places[11]; result.load = places[12];
  result.end = places[24]; result.stays = places[25]; result.next = read("next");
  const list = document.getElementById("which");
  result.marks = list.textContent;
  list.value = "0"; list.dispatchEvent(new Event("change")); await wait(300);
  await press("ArrowLeft");
  result.undone = read("place");
});`)
	for name, text := range map[string]string{"back": "stop the saw", "cut": "</script><b>S1, E1, stack 1, end 1 is cut", "load": "Jig J1: load </script><b>S1, E1, stack 1, end 2", "end": "</script><b>S1, E1, stack 1, end 2 is cut",
		"stays": "</script><b>S1, E1, stack 1, end 2 is cut", "next": "next: nothing, all stacks are cut", "marks": "✓ cut: Jig J1 · </script><b>S1, E1, stack 1, end 1✓ cut: Jig J1 · </script><b>S1, E1, stack 1, end 2", "undone": "stop the saw"} {
		if got[name] != text {
			t.Errorf("%s reads %q, want %q", name, got[name], text)
		}
	}
}

// Sound and voice are off until they are switched on, and then remembered; so
// are dark or light and the left hand. The page says how far the batch is.
func TestSwitchesAreRemembered(t *testing.T) {
	profile, page := t.TempDir(), string(counted(t))
	const look = `
  result.sound = read("sound"); result.voice = document.getElementById("voice").getAttribute("aria-pressed");
  result.root = document.documentElement.className; result.ink = getComputedStyle(document.body).color;
  result.batch = read("batch"); result.time = read("time"); result.stack = document.getElementById("stack").value;`
	first := browser(t, profile, page, "", `report(async () => {`+look+`
  await tap("more"); await tap("sound"); await tap("voice"); await tap("hand"); await tap("shade"); await tap("shade"); await tap("shade");
  await press(" ");
});`)
	then := browser(t, profile, page, "", `report(async () => {`+look+`});`)
	for name, want := range map[string][2]any{
		"sound": {"sound off", "sound on"}, "voice": {"false", "true"}, "root": {"", "dark left"},
		"ink": {"rgb(0, 0, 0)", "rgb(255, 255, 255)"}, "batch": {"0 of 2 stack ends cut", "0 of 2 stack ends cut"},
		"time": {"about 12 min left", "about 12 min left"}, "stack": {0.0, 1.0},
	} {
		if first[name] != want[0] || then[name] != want[1] {
			t.Errorf("%s reads %v, then %v, want %v", name, first[name], then[name], want)
		}
	}
}

// With nothing to count the page says so, and does not fail.
func TestNothingToCount(t *testing.T) {
	data, err := Count(&jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}})
	if err != nil {
		t.Fatal(err)
	}
	got := browser(t, t.TempDir(), string(data), "", `report(async () => { await press(" "); result.place = read("place"); });`)
	if got["place"] != "No stack is cut in this plan." {
		t.Errorf("the page reads %q", got["place"])
	}
}
