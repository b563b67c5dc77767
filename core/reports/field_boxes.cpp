// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/field_boxes.h"

namespace keyround {

const std::vector<FieldBoxInfo> &fieldBoxes()
{
    static const std::vector<FieldBoxInfo> boxes{
        {FieldBox::Arrived, "arrived", "Arrived", "hour and minute"},
        {FieldBox::Found, "found", "Found", "open, closed, or turns from closed"},
        {FieldBox::Closing, "closing", "Turns closing", "each pass in its order: 10, 5, 27"},
        {FieldBox::Opening, "opening", "Turns opening", "each pass in its order: 3, 2, 27"},
        {FieldBox::Left, "left", "Left", "open, closed, or turns from closed"},
        {FieldBox::Problems, "problems", "Problems", "what is wrong; none: write none"},
        {FieldBox::Remarks, "remarks", "Remarks", ""},
        {FieldBox::Finished, "finished", "Finished", "hour and minute"},
        {FieldBox::RecordedBy, "recorded_by", "Written by", ""},
    };
    return boxes;
}

} // namespace keyround
