package bench

import (
	"syscall"
	"unsafe"
)

// hugePages asks for large pages behind columns that are about to be filled. A dozen columns are
// written to side by side, and with small pages finding and clearing these costs as much as reading
// the numbers. Nothing but time hangs on it.
func hugePages(x []float64) {
	const page = 4096
	b := unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(x))), 8*len(x))
	from := int(-uintptr(unsafe.Pointer(unsafe.SliceData(b))) % page)
	if whole := (len(b) - from) / page * page; whole > 0 {
		_ = syscall.Madvise(b[from:from+whole], syscall.MADV_HUGEPAGE)
	}
}
