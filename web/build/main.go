// Command build bundles the page: web/ui into web/static. With -check it writes nothing and fails if what is
// there is not what would be written.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"github.com/evanw/esbuild/pkg/api"
)

func main() {
	check := flag.Bool("check", false, "compare, do not write")
	flag.Parse()
	if err := run(*check); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(check bool) error {
	ui, err := filepath.Abs("../ui")
	if err != nil {
		return err
	}
	vendor := func(name string) string { return filepath.Join(ui, "vendor", name, "index.mjs") }
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{filepath.Join(ui, "src", "main.tsx"), filepath.Join(ui, "page.css")},
		Bundle:      true, MinifySyntax: true, MinifyWhitespace: true, MinifyIdentifiers: true,
		Format: api.FormatESModule, Target: api.ES2022, Charset: api.CharsetUTF8, LegalComments: api.LegalCommentsNone,
		JSX: api.JSXAutomatic, JSXImportSource: "preact", Outdir: "../static", EntryNames: "[name]", ChunkNames: "[name]", Splitting: true, Write: false, LogLevel: api.LogLevelSilent,
		Alias: map[string]string{
			"preact": vendor("preact"), "preact/hooks": vendor("hooks"), "preact/jsx-runtime": vendor("jsx-runtime"),
			"@preact/signals": vendor("signals"), "@preact/signals-core": vendor("signals-core"),
			"three": vendor("three"), "three/addons/controls/OrbitControls.js": vendor("three"), "three/addons/loaders/STLLoader.js": vendor("three"), "three/addons/utils/BufferGeometryUtils.js": vendor("three"),
		},
	})
	for _, e := range append(result.Errors, result.Warnings...) {
		place := ""
		if e.Location != nil {
			place = fmt.Sprintf("%s:%d:%d: ", e.Location.File, e.Location.Line, e.Location.Column)
		}
		return fmt.Errorf("%s%s", place, e.Text)
	}
	files := map[string][]byte{}
	for _, f := range result.OutputFiles {
		files[filepath.Base(f.Path)] = f.Contents
	}
	page, err := os.ReadFile(filepath.Join(ui, "index.html"))
	if err != nil {
		return err
	}
	files["index.html"] = page
	for name, data := range files {
		path := filepath.Join("..", "static", name)
		if check {
			there, err := os.ReadFile(path)
			if err != nil || !bytes.Equal(there, data) {
				return fmt.Errorf("web/static/%s is not what web/ui makes; write it with: go run -C web/build .", name)
			}
			continue
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
