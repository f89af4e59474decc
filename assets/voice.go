// Package assets carries what the program needs as files, embedded in it.
package assets

import (
	"embed"
	"encoding/binary"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"
)

//go:embed voice/*/phrases/*.wav
var voice embed.FS

// Language is the one that is spoken: a folder of voice with its texts and their
// recordings. Another language is another folder with the same names.
const Language = "en"

func phrases() string { return path.Join("voice", Language, "phrases") }

// Phrases are the names of all spoken phrases, sorted.
func Phrases() []string {
	entries, err := voice.ReadDir(phrases())
	if err != nil {
		return nil
	}
	var out []string
	for _, e := range entries {
		out = append(out, strings.TrimSuffix(e.Name(), ".wav"))
	}
	slices.Sort(out)
	return out
}

// Phrase is the file of a spoken phrase, a WAV file for Sound.
func Phrase(name string) ([]byte, error) {
	b, err := voice.ReadFile(path.Join(phrases(), name+".wav"))
	if err != nil {
		return nil, fmt.Errorf("there is no spoken phrase %q", name)
	}
	return b, nil
}

// The codes of a WAV file's formats (Microsoft, RIFF multimedia registry).
const (
	formatPCM = 0x0001
	formatIMA = 0x0011
)

// Sound reads a WAV file of one channel, 16-bit PCM or IMA ADPCM, as samples
// of −1 to 1 and their rate, Hz. A data length that runs past the end of the
// file, as a program writes that cannot seek, is cut to the file.
func Sound(file []byte) (samples []float64, rate int, err error) {
	if len(file) < 12 || string(file[:4]) != "RIFF" || string(file[8:12]) != "WAVE" {
		return nil, 0, errors.New("this is not a WAV file")
	}
	var format, channels, block, bits int
	for rest := file[12:]; len(rest) >= 8; {
		name, size := string(rest[:4]), int(min(uint64(binary.LittleEndian.Uint32(rest[4:])), uint64(len(rest)-8)))
		body := rest[8 : 8+size]
		switch name {
		case "fmt ":
			if size < 16 {
				return nil, 0, errors.New("the WAV file's format is cut short")
			}
			format, channels = int(binary.LittleEndian.Uint16(body)), int(binary.LittleEndian.Uint16(body[2:]))
			rate, block = int(binary.LittleEndian.Uint32(body[4:])), int(binary.LittleEndian.Uint16(body[12:]))
			bits = int(binary.LittleEndian.Uint16(body[14:]))
		case "data":
			switch {
			case rate < 8000 || rate > 192000 || channels != 1:
				return nil, 0, fmt.Errorf("a WAV file of %d channels at %d Hz is not read: one channel at 8 to 192 kHz is", channels, rate)
			case format == formatPCM && bits == 16:
				return pcm(body), rate, nil
			case format == formatIMA && bits == 4 && block > 4:
				return ima(body, block), rate, nil
			}
			return nil, 0, fmt.Errorf("WAV format %d with %d bits is not read: 16-bit PCM and IMA ADPCM are", format, bits)
		}
		rest = rest[min(8+size+size%2, len(rest)):]
	}
	return nil, 0, errors.New("the WAV file has no sound in it")
}

func pcm(data []byte) []float64 {
	out := make([]float64, len(data)/2)
	for i := range out {
		out[i] = float64(int16(binary.LittleEndian.Uint16(data[2*i:]))) / 32768
	}
	return out
}

// ima decodes blocks of IMA ADPCM (IMA Digital Audio Focus and Technical
// Working Groups, "Recommended Practices for Enhancing Digital Audio
// Compatibility", 1992): a header of the first sample and the step, then four
// bits a sample, the low ones first.
func ima(data []byte, block int) []float64 {
	steps, moves := imaSteps(), [8]int{-1, -1, -1, -1, 2, 4, 6, 8}
	var out []float64
	for ; len(data) > 4; data = data[min(block, len(data)):] {
		now, index := int(int16(binary.LittleEndian.Uint16(data))), min(int(data[2]), len(steps)-1)
		out = append(out, float64(now)/32768)
		for _, b := range data[4:min(block, len(data))] {
			for _, code := range [2]byte{b & 15, b >> 4} {
				step := steps[index]
				d := step >> 3
				for bit := range 3 {
					if code&(4>>bit) != 0 {
						d += step >> bit
					}
				}
				if code&8 != 0 {
					d = -d
				}
				now = max(-32768, min(32767, now+d))
				index = max(0, min(len(steps)-1, index+moves[code&7]))
				out = append(out, float64(now)/32768)
			}
		}
	}
	return out
}

func imaSteps() [89]int {
	return [89]int{7, 8, 9, 10, 11, 12, 13, 14, 16, 17, 19, 21, 23, 25, 28, 31, 34, 37, 41, 45, 50, 55, 60, 66, 73, 80, 88, 97, 107, 118, 130, 143, 157, 173, 190,
		209, 230, 253, 279, 307, 337, 371, 408, 449, 494, 544, 598, 658, 724, 796, 876, 963, 1060, 1166, 1282, 1411, 1552, 1707, 1878, 2066, 2272, 2499, 2749,
		3024, 3327, 3660, 4026, 4428, 4871, 5358, 5894, 6484, 7132, 7845, 8630, 9493, 10442, 11487, 12635, 13899, 15289, 16818, 18500, 20350, 22385, 24623,
		27086, 29794, 32767}
}
