package drills

// Sentence is the text of an error as a sentence: with a capital and a full stop.
func Sentence(s string) string {
	if s == "" {
		return s
	}
	if s[0] >= 'a' && s[0] <= 'z' {
		s = string(s[0]-'a'+'A') + s[1:]
	}
	return s + "."
}
