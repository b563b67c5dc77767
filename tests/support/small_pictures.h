// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures for tests, put together by hand from the standards' own parts, so that the core needs
// no image library: a PNG of one grey pixel, and a JPEG that has all segments but no real scan.
#pragma once

#include <QByteArray>

namespace keyround {

/// A whole PNG, 1 by 1, grey (ISO/IEC 15948); decodes.
inline QByteArray onePixelPng()
{
    return QByteArray::fromHex("89504e470d0a1a0a0000000d4948445200000001000000010800000000"
                               "3a7e9b550000000a49444154789c636800000082008177"
                               "cd72b60000000049454e44ae426082");
}

/// SOI, APP0, a frame header of 640 by 480, a scan header and end of image (ITU-T T.81 annex B).
/// Walks to its end; does not decode.
inline QByteArray jpegShell()
{
    return QByteArray::fromHex("ffd8ffe000104a46494600010100000100010000"
                               "ffc0000b0801e0028001011100"
                               "ffda0008010100003f00"
                               "00112233"
                               "ffd9");
}

} // namespace keyround
