package widget

import (
	"math"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

func TestTypingAtTheCursor(t *testing.T) {
	var f Field
	f.Type("Mrta")
	f.Home()
	f.Move(1)
	f.Type("a")
	require.Equal(t, "Marta", f.Text())
	f.End()
	f.Back()
	f.Home()
	f.Delete()
	require.Equal(t, "art", f.Text())
	f.Back()
	f.Move(99)
	f.Delete()
	require.Equal(t, "art", f.Text())
	require.Equal(t, 3, f.Cursor())
}

func TestAFieldTakesOneLineOfPrintableText(t *testing.T) {
	f := Field{Most: 8}
	f.Type("a\tb\x00c\u200bd\xffe")
	require.Equal(t, "abcde", f.Text())
	f.Type("Łódź ist weit\nund mehr")
	require.Equal(t, "abcdeŁód", f.Text())
	f.Most = 0
	f.Set("  Li   Wei ")
	require.Equal(t, "Li Wei", f.Value())
}

func FuzzField(f *testing.F) {
	f.Add("Marta", "b<>x", 3)
	f.Add("Ł\xff\n", "<<<<dd", 0)
	f.Add("日本語", "he<b", 2)
	f.Fuzz(func(t *testing.T, typed, keys string, most int) {
		field := Field{Most: most % 64}
		for _, k := range keys {
			switch k {
			case 'b':
				field.Back()
			case 'd':
				field.Delete()
			case '<':
				field.Move(-1)
			case '>':
				field.Move(1)
			case 'h':
				field.Home()
			case 'e':
				field.End()
			default:
				field.Type(typed)
			}
			n := utf8.RuneCountInString(field.Text())
			if field.Cursor() < 0 || field.Cursor() > n {
				t.Fatalf("cursor %d of %d letters", field.Cursor(), n)
			}
			if field.Most > 0 && n > field.Most {
				t.Fatalf("%d letters, most %d", n, field.Most)
			}
			if !utf8.ValidString(field.Text()) || strings.IndexFunc(field.Text(), unicode.IsControl) >= 0 {
				t.Fatalf("not one line of text: %q", field.Text())
			}
		}
	})
}

func TestAListKeepsTheChosenRowInView(t *testing.T) {
	var l List
	l.Fit(40, 9)
	l.Move(11)
	from, to := l.Seen()
	require.Equal(t, []int{3, 12, 11, 28}, []int{from, to, l.Chosen(), l.Below()})
	l.Page(1)
	l.Page(5)
	from, to = l.Seen()
	require.Equal(t, []int{31, 40, 39, 0}, []int{from, to, l.Chosen(), l.Below()})
	l.Page(-9)
	require.Equal(t, 0, l.Chosen())
	l.Choose(39)
	l.Fit(2, 9)
	require.Equal(t, 1, l.Chosen(), "rows went away")
	l.Fit(0, 9)
	l.Move(1)
	from, to = l.Seen()
	require.Equal(t, []int{0, 0, 0}, []int{from, to, l.Chosen()})
}

func TestChoiceGoesRound(t *testing.T) {
	c := Choice{Options: []string{"daylight", "indoors"}}
	c.Move(1)
	require.Equal(t, "indoors", c.Name())
	c.Move(1)
	require.Equal(t, "daylight", c.Name())
	c.Move(-3)
	require.Equal(t, "indoors", c.Name())
	c.Choose(9)
	require.Equal(t, 1, c.Chosen())
	var none Choice
	none.Move(1)
	require.Equal(t, "", none.Name())
}

func TestNumberStaysBetweenItsEnds(t *testing.T) {
	n := Number{Least: 2, Most: 4, Step: 0.1}
	n.Set(3.44)
	require.InDelta(t, 3.4, n.Value(), 1e-9)
	n.Move(3)
	require.InDelta(t, 3.7, n.Value(), 1e-9)
	n.Move(99)
	require.InDelta(t, 4, n.Value(), 1e-9)
	n.Set(math.NaN())
	require.InDelta(t, 4, n.Value(), 1e-9)
	n.Set(math.Inf(-1))
	require.InDelta(t, 2, n.Value(), 1e-9)
}

func TestAPressGoesDownAndUpOnOneThing(t *testing.T) {
	var p Press
	require.False(t, p.Up(0), "never went down")
	p.Down(3)
	require.True(t, p.Holds(3))
	require.False(t, p.Up(2))
	require.False(t, p.Up(3), "let go elsewhere")
	p.Down(3)
	require.True(t, p.Up(3))
	p.Down(-1)
	require.False(t, p.Up(-1))
}
