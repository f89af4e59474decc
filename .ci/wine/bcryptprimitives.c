/* The one function of bcryptprimitives.dll that Go needs, for a Wine that has
   not got the library. For trying the program alone: never packed with it. */
#include <windows.h>

BOOLEAN NTAPI SystemFunction036(PVOID, ULONG); /* RtlGenRandom, of advapi32 */

__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE data, SIZE_T size)
{
	while (size > 0) {
		ULONG part = size > 1 << 20 ? 1 << 20 : (ULONG)size;
		if (!SystemFunction036(data, part))
			return FALSE;
		data += part;
		size -= part;
	}
	return TRUE;
}
