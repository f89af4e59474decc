package clinic

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"drillbay/drills"
)

// Entry is one line of a pasted list.
type Entry struct {
	Name string
	Hand drills.Hand
}

// longestName is the number of letters of a name that are kept at most.
const longestName = 60

var (
	bullet = regexp.MustCompile(`^\s*(?:[-*•–]|\(?\d{1,3}[.):]|\d{1,3}\s)\s*`)
	lefty  = regexp.MustCompile(`(?i)\s*[(\[]?\b(?:left[- ]?hand(?:ed|er)?|left|lh)\b[)\]]?\s*$|\s*[(\[][lL][)\]]\s*$`)
)

// Parse reads a pasted list of names: one a line, or separated by commas,
// semicolons or tabs; numbers and bullets before a name are dropped; "(L)" or
// "left" after it is a left-hander. Doubles tells the names that stood there
// before: two of a name need an initial.
func Parse(text string) (list []Entry, doubles []string) {
	seen := map[string]bool{}
	fields := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("\n\r,;\t", r) })
	for _, f := range fields {
		e := Entry{Name: bullet.ReplaceAllString(clean(f), "")}
		if at := lefty.FindStringIndex(e.Name); at != nil {
			e.Name, e.Hand = e.Name[:at[0]], drills.Left
			if n := len(list); strings.TrimSpace(e.Name) == "" && n > 0 {
				list[n-1].Hand = drills.Left // in a column of its own
			}
		}
		e.Name = strings.Join(strings.Fields(e.Name), " ")
		if runes := []rune(e.Name); len(runes) > longestName {
			e.Name = strings.TrimSpace(string(runes[:longestName]))
		}
		if !strings.ContainsFunc(e.Name, unicode.IsLetter) {
			continue
		}
		key := strings.ToLower(e.Name)
		if seen[key] {
			doubles = append(doubles, e.Name)
			continue
		}
		seen[key] = true
		list = append(list, e)
	}
	return list, doubles
}

// clean drops what cannot be seen.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError, unicode.Is(unicode.Cf, r):
			return -1
		case unicode.IsControl(r):
			return ' '
		}
		return r
	}, s)
}
