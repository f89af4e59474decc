package report

import (
	"bytes"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

func written(t *testing.T, p Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, p))
	return b.String()
}

func TestThePageNeedsNothingElse(t *testing.T) {
	text := written(t, full())
	assert.NotRegexp(t, regexp.MustCompile(`(?i)https?:|src="[^d]|href=|url\(|@import|<script|<link|<iframe`), text)
	assert.Contains(t, text, `default-src 'none'`)
	assert.Contains(t, text, "@page")
	assert.NotContains(t, text, "NaN")
	assert.NotContains(t, text, "ZgotmplZ")
}

func TestNamesAreWordsAndNothingElse(t *testing.T) {
	evil := `<script>alert(1)</script>"'><img src=x onerror=alert(2)>`
	p := full()
	p.Player, p.Club, p.Headline, p.Why = evil, evil, evil, evil
	p.Rungs[0].Name, p.Rungs[0].State = evil, evil
	p.Causes[0] = Cause{Name: evil, Evidence: []string{evil}, Else: []string{evil}, Feel: evil, Rung: evil}
	p.Ask, p.Next, p.Homework, p.Trends = []string{evil}, []string{evil}, []string{evil}, []string{evil}
	p.Body[0] = Lapse{Name: evil, Evidence: evil, Else: []string{evil}, Feel: evil}
	p.History[0].Rung, p.History[0].Sentence, p.Pictures[0].Caption = evil, evil, evil
	text := written(t, p)
	assert.NotContains(t, text, "<script")
	assert.NotContains(t, text, "<img src=x")
	assert.NotRegexp(t, regexp.MustCompile(`<[^>]*\sonerror=[^>]*>`), regexp.MustCompile(`"[^"]*"`).ReplaceAllString(text, `""`))
	assert.Contains(t, text, "&lt;script&gt;alert(1)")
}

// Looking along the target line a right-hander stands on the left of the
// picture, and inside is where the player stands.
func TestInsideIsWhereThePlayerStands(t *testing.T) {
	p := full()
	right := linesOf(p)
	p.Hand = drills.Left
	left := linesOf(p)
	assert.Less(t, right.Rows[0].Middle, (right.Left+right.Right)/2, "12° inside, to the left")
	assert.Greater(t, left.Rows[0].Middle, (left.Left+left.Right)/2)
	assert.Less(t, right.InsideAt, right.OutsideAt)
	assert.Greater(t, left.InsideAt, left.OutsideAt)
}

func TestSharesStandWhereTheyAre(t *testing.T) {
	c := sharesOf(full())
	require.Len(t, c.Practice, 18)
	require.Len(t, c.Later, 6)
	for i, b := range c.Practice {
		assert.InDelta(t, full().Practice[i].Share.Value(), (c.Bottom-b.Y)/(c.Bottom-c.Top), 1e-9)
		assert.True(t, b.Low > b.Y && b.Y > b.High)
		assert.True(t, b.X > c.Left && b.X < c.Right)
	}
}

func TestAPageOfNobodyYet(t *testing.T) {
	text := written(t, Page{Player: "Ada", Band: 8, Headline: "Ordinary swings were not tested on a later day yet."})
	assert.Contains(t, text, "not tested")
	assert.NotContains(t, text, "NaN")
}

func TestAPictureOfAnotherKindIsRefused(t *testing.T) {
	p := full()
	p.Pictures[0].Data = []byte("<svg onload=alert(1)>")
	err := Write(&bytes.Buffer{}, p)
	assert.ErrorContains(t, err, "neither JPEG nor PNG")
}

// Wherever readings of the body are shown the caution stands; without readings
// nothing is said of it.
func TestTheBodyStandsInTheReportWithItsCaution(t *testing.T) {
	text := written(t, full())
	assert.Contains(t, text, "spine stood up")
	assert.Contains(t, text, "It could also be: hips that move toward the ball")
	assert.Contains(t, text, drills.NoAdvice)
	first, _, _ := strings.Cut(text, `<div class="details">`)
	assert.Contains(t, first, drills.NoAdvice, "on the first page, which may name it")
	p := full()
	p.Body = nil
	text = written(t, p)
	assert.Contains(t, text, "In the last session no part of the body was plainly out of its band")
	p.RepByRep = "Rep by rep, plainly out of its band: hands pulled in (5 of 10 reps)."
	text = written(t, p)
	assert.Contains(t, text, "On average over the last session no part of the body was plainly out of its band.</p>\n<p>Rep by rep, plainly out of its band: hands pulled in (5 of 10 reps).</p>")
	assert.Contains(t, text, drills.NoAdvice)
	p.BodyRead = false
	assert.NotContains(t, written(t, p), "The body")
}

// The clinic's page has the caution where a part of the body is what to work on, and only there.
func TestTheClinicsPageHasTheCaution(t *testing.T) {
	page := func(body bool) string {
		var out bytes.Buffer
		require.NoError(t, WriteGroup(&out, Group{Members: []Member{{Name: "Ada", Middle: math.NaN()}, {Name: "Cleo", Middle: math.NaN(), Work: "Spine stood up.", Body: body}}}))
		return out.String()
	}
	assert.Contains(t, page(true), drills.NoAdvice)
	assert.NotContains(t, page(false), drills.NoAdvice)
}
