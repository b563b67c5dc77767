// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/notice_json.h"

#include <QJsonArray>

namespace keyround {

namespace {

Result<NoticeTemplate> templateFrom(const QJsonValue &json)
{
    NoticeTemplate wording;
    wording.name = json[QLatin1String("name")].toString();
    wording.language = json[QLatin1String("language")].toString();
    wording.title = json[QLatin1String("title")].toString();
    wording.text = json[QLatin1String("text")].toString();
    const QString key = json[QLatin1String("form")].toString();
    const std::optional<NoticeForm> form = noticeFormFromKey(key);
    if (!form) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("The wording \"%1\" is of the form \"%2\", which does not "
                                   "exist. The file is damaged: open the newest back-up.")
                        .arg(wording.name, key));
    }
    wording.form = *form;
    return wording;
}

} // namespace

QJsonObject toJson(const NoticeTemplates &templates)
{
    QJsonArray list;
    for (const NoticeTemplate &wording : templates.list) {
        list.append(QJsonObject{{QStringLiteral("name"), wording.name},
                                {QStringLiteral("form"), keyFor(wording.form)},
                                {QStringLiteral("language"), wording.language},
                                {QStringLiteral("title"), wording.title},
                                {QStringLiteral("text"), wording.text}});
    }
    return {{QStringLiteral("list"), list},
            {QStringLiteral("contact"), templates.contact},
            {QStringLiteral("sender_address"), templates.senderAddress},
            {QStringLiteral("keep_contact_days"), templates.keepContactDays}};
}

Result<NoticeTemplates> noticeTemplatesFromJson(const QJsonObject &json)
{
    NoticeTemplates templates;
    templates.contact = json.value(QLatin1String("contact")).toString();
    templates.senderAddress = json.value(QLatin1String("sender_address")).toString();
    templates.keepContactDays =
        json.value(QLatin1String("keep_contact_days")).toInt(templates.keepContactDays);
    if (!json.contains(QLatin1String("list"))) {
        return templates;
    }
    templates.list.clear();
    for (const auto &each : json.value(QLatin1String("list")).toArray()) {
        Result<NoticeTemplate> wording = templateFrom(each);
        if (!wording) {
            return tl::unexpected(wording.error());
        }
        templates.list.push_back(std::move(*wording));
    }
    return templates;
}

} // namespace keyround
