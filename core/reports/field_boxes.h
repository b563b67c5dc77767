// SPDX-License-Identifier: GPL-3.0-or-later
// The boxes of a field sheet, in the order in which they are filled at the valve. Those that are
// typed in afterwards stand in the order of core/fieldlog/paper_row.h and are written as they are
// read there: "o" open, "p 5 1/2" part open, passes with + between them.
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
    const char *hint;  ///< small, in the box: "each pass in order: 10+5+27"
    bool isTyped = true;
};
[[nodiscard]] const std::vector<FieldBoxInfo> &fieldBoxes();

} // namespace keyround
