package laptop

import (
	"io"
	"log"

	"github.com/jezek/xgb"
	"github.com/jezek/xgb/xproto"
)

// ScreenSize is the size of the screen in px, 0 without one.
func ScreenSize() (width, height int) {
	xgb.Logger = log.New(io.Discard, "", 0)
	conn, err := xgb.NewConn()
	if err != nil {
		return 0, 0
	}
	defer conn.Close()
	s := xproto.Setup(conn).DefaultScreen(conn)
	return int(s.WidthInPixels), int(s.HeightInPixels)
}
