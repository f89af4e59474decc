#!/bin/sh
# build.sh [LANGUAGE]: makes en/phrases/NAME.wav of every line of en/phrases.txt, as
# en/takes.txt says: IMA ADPCM, one channel, 22 050 Hz. The same synthesiser and
# packer give the same bytes. Another language is another folder beside en.
# Needs festival with the voice cmu_us_slt_arctic_hts, and sox
# (Debian: apt-get install festival festvox-us-slt-hts sox).
set -eu
cd "$(dirname "$0")"
for tool in festival sox; do
	command -v "$tool" >/dev/null || { echo "$tool is missing: apt-get install festival festvox-us-slt-hts sox" >&2; exit 1; }
done
language=${1:-en}
made=$(mktemp -d)
trap 'rm -rf "$made"' EXIT
mkdir "$made/raw" "$made/phrases"

# A line a phrase: name, speed, first and last part (0: all), what is spoken.
awk -v OFS='\t' '
	/^#/ { next }
	FILENAME ~ /takes/ { name = $1; speed[name] = $2; from[name] = $3; to[name] = $4; for (i = 0; i < 4; i++) sub(/^[^ ]+ /, ""); text[name] = $0; next }
	/^[a-z0-9-]+ = / {
		name = $1; sub(/^[^=]*= /, "")
		if (name in text) print name, speed[name], from[name], to[name], text[name]
		else print name, (name ~ /^caution-/ ? 0.78 : 0.9), 0, 0, $0
	}' "$language/takes.txt" "$language/phrases.txt" >"$made/list"

{
	cat <<'SCHEME'
(voice_cmu_us_slt_arctic_hts)
(define (say speed file text)
  (set! hts_engine_params (cons (list "-r" speed) cmu_us_slt_arctic_hts::hts_engine_params))
  (let ((spoken (utt.synth (eval (list 'Utterance 'Text text)))))
    (utt.save.wave spoken file 'riff)
    (mapcar (lambda (s) (format t "%s %f " (item.name s) (item.feat s "end"))) (utt.relation.items spoken 'Segment))
    (format t "\n")))
SCHEME
	awk -F '\t' -v to="$made/raw" '{ printf "(say %s \"%s/%s.wav\" \"%s\")\n", $2, to, $1, $5 }' "$made/list"
} >"$made/all.scm"
festival -b "$made/all.scm" >"$made/sounds"

# Where the wanted parts begin and end, s.
paste "$made/list" "$made/sounds" | awk -F '\t' '{
	n = split($6, s, " "); part = 0; begins = 0; ends = s[n]; was = "pau"
	for (i = 1; i < n; i += 2) {
		if (s[i] != "pau" && was == "pau") { part++; if (part == $3) begins = s[i-1] - 0.03 }
		if (s[i] == "pau" && was != "pau" && part == $4) ends = s[i-1] + 0.03
		was = s[i]
	}
	if (ends > s[n] - 0.02) ends = s[n] - 0.02
	print $1, begins, ends - begins
}' >"$made/cuts"
while read -r name begins long; do
	# Silence is cut at both ends; the loudness is levelled when it is played.
	sox -D "$made/raw/$name.wav" -c 1 -r 22050 -e ima-adpcm "$made/phrases/$name.wav" \
		trim "$begins" "$long" gain -n -3 silence 1 0.005 0.3% reverse silence 1 0.005 0.3% reverse </dev/null
done <"$made/cuts"
rm -rf "$language/phrases"
mv "$made/phrases" "$language/phrases"
du -sh "$language/phrases"
