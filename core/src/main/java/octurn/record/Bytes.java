package octurn.record;

import java.util.Arrays;
import java.util.zip.Deflater;

/** Bytes in the making, with the two ways in which numbers are written. */
final class Bytes {

    private byte[] bytes = new byte[256];
    private int size;

    void put(int value) {
        if (size == bytes.length) {
            bytes = Arrays.copyOf(bytes, 2 * size);
        }
        bytes[size++] = (byte) value;
    }

    /** A number from 0 on, seven bits a byte, the lowest first; all bytes but the last have bit 7 set. */
    void number(long value) {
        long rest = value;
        while ((rest & ~0x7FL) != 0) {
            put(((int) rest & 0x7F) | 0x80);
            rest >>>= 7;
        }
        put((int) rest);
    }

    /** A word, small for those near 0: 0, -1, 1, -2 .. are written as the numbers 0, 1, 2, 3 .. */
    void word(int value) {
        number(Integer.toUnsignedLong((value << 1) ^ (value >> 31)));
    }

    /** All of another one, with its length before it. */
    void put(Bytes other) {
        number(other.size);
        while (bytes.length - size < other.size) {
            bytes = Arrays.copyOf(bytes, 2 * bytes.length);
        }
        System.arraycopy(other.bytes, 0, bytes, size, other.size);
        size += other.size;
    }

    void clear() {
        size = 0;
    }

    /** All of it, deflated (RFC 1951, without the header of RFC 1950). */
    byte[] deflated() {
        Deflater deflater = new Deflater(Deflater.BEST_COMPRESSION, true);
        try {
            deflater.setInput(bytes, 0, size);
            deflater.finish();
            byte[] packed = new byte[256];
            int length = 0;
            while (!deflater.finished()) {
                if (length == packed.length) {
                    packed = Arrays.copyOf(packed, 2 * length);
                }
                length += deflater.deflate(packed, length, packed.length - length);
            }
            return Arrays.copyOf(packed, length);
        } finally {
            deflater.end();
        }
    }
}
