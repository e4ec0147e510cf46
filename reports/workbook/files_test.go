package workbook_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// opened reads a workbook by the library that wrote it.
func opened(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func saved(t *testing.T, f *excelize.File) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// unpacked reads a workbook as the archive of parts that it is.
func unpacked(t *testing.T, data []byte) *zip.Reader {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func contentOf(t *testing.T, part *zip.File) []byte {
	t.Helper()
	in, err := part.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	content, err := io.ReadAll(in)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// rewritten is a workbook with every sheet's XML changed.
func rewritten(t *testing.T, data []byte, change func(sheet []byte) []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, part := range unpacked(t, data).File {
		content := contentOf(t, part)
		if strings.HasPrefix(part.Name, "xl/worksheets/") {
			content = change(content)
		}
		to, err := w.Create(part.Name)
		if err == nil {
			_, err = to.Write(content)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// withoutValues takes the stored values of formulas out of a workbook.
func withoutValues(t *testing.T, data []byte) []byte {
	t.Helper()
	return rewritten(t, data, func(sheet []byte) []byte {
		var kept strings.Builder
		for i, piece := range strings.SplitAfter(string(sheet), "</f>") {
			if i > 0 && strings.HasPrefix(piece, "<v>") {
				piece = piece[strings.Index(piece, "</v>")+len("</v>"):]
			}
			kept.WriteString(piece)
		}
		return []byte(kept.String())
	})
}

// needsLibreOffice skips a test that no second program can carry out here.
func needsLibreOffice(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("soffice"); err != nil {
		t.Skip("skipped: soffice is not installed, so no second program can read the workbook")
	}
	if testing.Short() {
		t.Skip("skipped: LibreOffice takes seconds, and -short was given")
	}
}

// officeProfile is where LibreOffice keeps its own settings: made at the first
// start, which takes longest, and used by every later one.
var officeProfile string

func TestMain(m *testing.M) {
	folder, err := os.MkdirTemp("", "batchwright-office")
	if err != nil {
		panic(err)
	}
	officeProfile = folder
	code := m.Run()
	_ = os.RemoveAll(folder)
	os.Exit(code)
}

// converted has LibreOffice, which shares nothing with the library that wrote
// them, save files of a folder in another format: all in one run, into the
// folder that is given back.
func converted(t *testing.T, folder, format string, files ...string) string {
	t.Helper()
	return convertedIn(t, "", folder, format, files...)
}

// convertedIn is converted on a machine that has one family of fonts only; "":
// those that are installed.
func convertedIn(t *testing.T, family, folder, format string, files ...string) string {
	t.Helper()
	to := filepath.Join(folder, format+family)
	args := []string{"-env:UserInstallation=file://" + filepath.ToSlash(officeProfile), "--headless", "--convert-to", format, "--outdir", to}
	for _, file := range files {
		args = append(args, filepath.Join(folder, file))
	}
	run := exec.Command("soffice", args...)
	if family != "" {
		run.Env = append(os.Environ(), "FONTCONFIG_FILE="+onlyFont(t, family))
	}
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("convert: %v\n%s", err, out)
	}
	return to
}

// laidDown writes workbooks into a new folder, each under its name.
func laidDown(t *testing.T, books map[string][]byte) (folder string, files []string) {
	t.Helper()
	folder = t.TempDir()
	for name, data := range books {
		file := name + ".xlsx"
		if err := os.WriteFile(filepath.Join(folder, file), data, 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	return folder, files
}

// recalculated has LibreOffice reckon every formula of some workbooks anew: the
// stored values are taken out, and the way back through another format leaves
// none over.
func recalculated(t *testing.T, books map[string][]byte) map[string]*excelize.File {
	t.Helper()
	needsLibreOffice(t)
	bare, out := map[string][]byte{}, map[string]*excelize.File{}
	for name, data := range books {
		bare[name] = withoutValues(t, data)
	}
	folder, files := laidDown(t, bare)
	converted(t, folder, "ods", files...)
	for i, file := range files {
		files[i] = filepath.Join("ods", strings.TrimSuffix(file, ".xlsx")+".ods")
	}
	back := converted(t, folder, "xlsx", files...)
	for name := range books {
		data, err := os.ReadFile(filepath.Join(back, name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		out[name] = opened(t, data)
	}
	return out
}

// fontFamilies are the two that a fresh machine most often has, one or the
// other: Liberation Sans is as wide as Arial, DejaVu Sans a seventh wider.
var fontFamilies = []string{"Liberation Sans", "DejaVu Sans"}

// onlyFont is a font configuration of a machine that has one family only; a
// family that is not installed here skips the test.
func onlyFont(t *testing.T, family string) string {
	t.Helper()
	file, err := exec.Command("fc-list", "-f", "%{file}\n", family).Output()
	first, _, _ := strings.Cut(string(file), "\n")
	if err != nil || first == "" {
		t.Skipf("skipped: the font %s is not installed", family)
	}
	conf := fmt.Sprintf(`<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><dir>%s</dir><cachedir>%s</cachedir><include ignore_missing="yes">/etc/fonts/conf.d</include></fontconfig>
`, filepath.Dir(first), filepath.Join(officeProfile, "fonts"))
	path := filepath.Join(t.TempDir(), "fonts.conf")
	if err := os.WriteFile(path, []byte(conf), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}
