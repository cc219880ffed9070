package report

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Plain values are written as the standard library's encoder writes them (encoding/json, without HTML escapes).
func TestPlainLaw(t *testing.T) {
	check := func(t interface{ Errorf(string, ...any) }, v any) {
		var own, std bytes.Buffer
		enc := json.NewEncoder(&std)
		enc.SetEscapeHTML(false)
		if enc.Encode(v) != nil {
			if writePlain(&own, v) {
				t.Errorf("%v is written, and cannot be", v)
			}
			return
		}
		if writePlain(&own, v) && own.String()+"\n" != std.String() {
			t.Errorf("%q, the standard encoder %q", own.String(), std.String())
		}
	}
	for _, v := range []any{"", "ρ = 1000 kg/m³ <&> '", "a\"b", "\\", "\u2028", "\u0080", "\x7f", "\xff", 0.0, math.Copysign(0, -1), 1e-6, 1e21, 9.999e20, math.NaN(), math.Inf(1), 12, -3, true, nil} {
		check(t, v)
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, rapid.String().Draw(t, "text"))
		check(t, rapid.Float64().Draw(t, "number"))
		check(t, float64(rapid.IntRange(-100000, 100000).Draw(t, "count"))/1000)
		check(t, rapid.Int().Draw(t, "whole"))
	})
}
