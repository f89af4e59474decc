package app

import (
	"regexp"
	"sync"
)

// cut is a piece of a sentence that is left out, and what stands there instead.
type cut struct {
	what *regexp.Regexp
	by   string
}

// statistics are the pieces that belong into the report.
var statistics = sync.OnceValue(func() []cut {
	return []cut{
		{regexp.MustCompile(`\s*\([^()]*(95 %|readings, about|\bp [<=]|\bZ [<=]|Theil|Mann|t-test|standard deviation|Wilson|long run)[^()]*\)`), ""},
		{regexp.MustCompile(`[,:;] [^,;:()]* in the long run`), ""},
		{regexp.MustCompile(`; the change is [^;.]* percentage points`), ""},
		{regexp.MustCompile(`, a bias\b`), ""},
		{regexp.MustCompile(`, no bias is shown`), ", which may be chance"},
	}
})

// plain is a sentence without the statistics behind it, which stand in the
// report: "more inside than out" is for the player, how sure that is for who asks.
func plain(s string) string {
	for _, c := range statistics() {
		s = c.what.ReplaceAllString(s, c.by)
	}
	return s
}
