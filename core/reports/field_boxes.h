// SPDX-License-Identifier: GPL-3.0-or-later
// The boxes of a field sheet, in the order in which they are filled at the valve and in which they
// are typed in afterwards: paper and the grid that takes it back share this list.
#pragma once

#include <QString>

#include <vector>

namespace keyround {

enum class FieldBox {
    Arrived,
    Found,    ///< open, closed, or turns from closed
    Closing,  ///< turns of each closing pass, in order
    Opening,  ///< turns of each opening pass, in order
    Left,     ///< open, closed, or turns from closed
    Problems, ///< words or codes
    Remarks,
    Finished,
    RecordedBy,
};

struct FieldBoxInfo
{
    FieldBox box;
    const char *key;   ///< stable: "closing"
    const char *label; ///< on paper and on screen: "Turns closing"
    const char *hint;  ///< small, in the box: "each pass: 10, 5, 27"
};
[[nodiscard]] const std::vector<FieldBoxInfo> &fieldBoxes();

} // namespace keyround
