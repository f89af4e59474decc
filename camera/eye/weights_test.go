package eye

import (
	"encoding/binary"
	"hash/crc32"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sealed gives data the checksum that it should have.
func sealed(body []byte) []byte {
	return binary.LittleEndian.AppendUint32(append([]byte(nil), body...), crc32.ChecksumIEEE(body))
}

func TestDamagedWeightsAreAnError(t *testing.T) {
	body := []byte(taught[:len(taught)-4])
	_, err := Parse(sealed(body))
	require.NoError(t, err)
	flipped := []byte(taught)
	flipped[len(flipped)/2] ^= 4
	cases := map[string]struct {
		data []byte
		says string
	}{
		"empty":           {nil, "not a file of weights"},
		"something else":  {[]byte("some text that is long enough"), "not a file of weights"},
		"a bit flipped":   {flipped, "checksum"},
		"cut off":         {sealed(body[:len(body)/2]), "ends within"},
		"longer":          {sealed(append(append([]byte(nil), body...), 0)), "length"},
		"another version": {sealed(append([]byte(magic+"\x09\x00\x00\x00"), body[12:]...)), "version 9"},
		"nothing in it":   {sealed([]byte(magic + "\x01\x00\x00\x00\x00\x00\x00\x00")), "is not in it"},
		"a huge side":     {sealed([]byte(magic + "\x01\x00\x00\x00\x01\x00\x00\x00\x01a\x02\xff\xff\xff\xff\xff\xff\xff\xff")), "side"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			n, err := Parse(c.data)
			require.ErrorIs(t, err, ErrWeights)
			assert.ErrorContains(t, err, c.says)
			assert.Nil(t, n)
		})
	}
}

func TestATensorOfAnotherShapeIsAnError(t *testing.T) {
	all, err := parse([]byte(taught))
	require.NoError(t, err)
	all["maps.bias"] = tensor{shape: []int{3}, values: make([]float32, 3)}
	_, err = build(all, plain())
	assert.ErrorContains(t, err, "maps.bias is [3], [19] is wanted")
}

// IEEE 754-2008, binary16: values of the standard's table.
func TestHalfFloats(t *testing.T) {
	for bits, want := range map[uint16]float64{
		0x0000: 0, 0x3c00: 1, 0xc000: -2, 0x3555: 0.333251953125, 0x7bff: 65504, 0x0400: math.Exp2(-14), 0x0001: math.Exp2(-24), 0x03ff: 1023 * math.Exp2(-24), 0x7c00: math.Inf(1), 0xfc00: math.Inf(-1),
	} {
		assert.Equal(t, want, float64(float(bits)), "%04x", bits)
	}
	assert.True(t, math.IsNaN(float64(float(0x7e00))))
	assert.True(t, math.Signbit(float64(float(0x8000))))
}
