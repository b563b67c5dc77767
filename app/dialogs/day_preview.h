// SPDX-License-Identifier: GPL-3.0-or-later
// The packet of a round's day in the preview, with its parts to tick.
#pragma once

#include "core/common/ids.h"

class QWidget;

namespace keyround {

class PaperPreview;
class Session;

PaperPreview *openDayPreview(QWidget *owner, Session &session, const RoundId &round);

} // namespace keyround
