package main

import (
	"bytes"
	"fmt"
	"os"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"unsafe"
)

// terminalPair opens a terminal of 80 columns and the end on which what is written to it is seen.
func terminalPair(t *testing.T) (seen, tty *os.File) {
	t.Helper()
	seen, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no terminal may be made here: ", err)
	}
	ask := func(f *os.File, what uintptr, with unsafe.Pointer) {
		if _, _, no := syscall.Syscall(syscall.SYS_IOCTL, f.Fd(), what, uintptr(with)); no != 0 {
			t.Skip("no terminal may be made here: ", no)
		}
	}
	locked, number, size := int32(0), uint32(0), [4]uint16{24, 80}
	ask(seen, syscall.TIOCSPTLCK, unsafe.Pointer(&locked))
	ask(seen, syscall.TIOCGPTN, unsafe.Pointer(&number))
	if tty, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0); err != nil {
		t.Skip("no terminal may be made here: ", err)
	}
	ask(tty, syscall.TIOCSWINSZ, unsafe.Pointer(&size))
	return seen, tty
}

// A large log shows a bar on a terminal, beside text alone; a small one shows none.
func TestProgressBar(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	for _, c := range []struct {
		json bool
		size int
		bar  bool
	}{{false, barBytes, true}, {true, barBytes, false}, {false, barBytes - 1, false}} {
		seen, tty := terminalPair(t)
		tell, end := (&command{errs: tty, json: c.json}).progress()
		for _, share := range []int{4, 2, 1} {
			tell("runs/day/big.csv", c.size/share, c.size)
		}
		end()
		_, _ = tty.WriteString("after it\n")
		var all bytes.Buffer
		for b := make([]byte, 4096); !strings.Contains(all.String(), "after it"); {
			n, err := seen.Read(b)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(b[:n])
		}
		if s := all.String(); c.bar != strings.Contains(s, "big.csv") || c.bar != strings.Contains(s, "100 %") {
			t.Errorf("%+v shows %q", c, s)
		}
		_, _ = tty.Close(), seen.Close()
	}
	var out bytes.Buffer // no terminal
	tell, end := (&command{errs: &out}).progress()
	tell("big.csv", barBytes, barBytes)
	end()
	if out.Len() > 0 {
		t.Errorf("it shows %q", out.String())
	}
}
