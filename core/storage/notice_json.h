// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the wordings of notices as JSON, and back. A project that was made before there
// were any takes the examples; an empty list stays empty.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/notice_text.h"

#include <QJsonObject>

namespace keyround {

[[nodiscard]] QJsonObject toJson(const NoticeTemplates &templates);
/// Damaged for a form that there is not.
[[nodiscard]] Result<NoticeTemplates> noticeTemplatesFromJson(const QJsonObject &json);

} // namespace keyround
