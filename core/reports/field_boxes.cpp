// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/field_boxes.h"

namespace keyround {

const std::vector<FieldBoxInfo> &fieldBoxes()
{
    static const std::vector<FieldBoxInfo> boxes{
        {FieldBox::Arrived, "arrived", "Arrived", "hour and minute: 8:15"},
        {FieldBox::Found, "found", "Found", "o open, c closed, p and turns part open, n not seen"},
        {FieldBox::Closing, "closing", "Turns closing", "each pass in its order: 10+5+27"},
        {FieldBox::Opening, "opening", "Turns opening", "each pass in its order: 3+2+27"},
        {FieldBox::Left, "left", "Left", "o open, c closed, p and turns part open, n not seen"},
        {FieldBox::Problems, "problems", "Problems", "in words, a comma between them"},
        {FieldBox::Remarks, "remarks", "Remarks", ""},
        {FieldBox::Finished, "finished", "Finished", "hour and minute", false},
        {FieldBox::RecordedBy, "recorded_by", "Written by", "", false},
    };
    return boxes;
}

} // namespace keyround
