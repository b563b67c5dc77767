// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/policy_rule_form.h"

#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "core/inventory/value_parsers.h"

#include <QCheckBox>
#include <QFormLayout>
#include <QLineEdit>

#include <utility>

namespace keyround {

namespace {

constexpr int longestIntervalMonths = 1200;

template <typename Kind> QString joined(const QList<Kind> &kinds)
{
    QStringList words;
    for (const Kind kind : kinds) {
        words << wordFor(kind);
    }
    return words.join(QStringLiteral(", "));
}

QStringList listed(const QString &text)
{
    QStringList parts;
    for (const QString &part : text.split(QLatin1Char(','), Qt::SkipEmptyParts)) {
        if (!part.trimmed().isEmpty()) {
            parts << part.trimmed();
        }
    }
    return parts;
}

/// Reads a list of words with the parser of one; nothing given means any.
template <typename Kind, typename Parser>
Status readKinds(const QString &text, QList<Kind> &kinds, Parser parse)
{
    QList<Kind> read;
    for (const QString &word : listed(text)) {
        const Result<std::optional<Kind>> kind = parse(word);
        if (!kind) {
            return tl::unexpected<Error>(kind.error());
        }
        if (*kind) {
            read << **kind;
        }
    }
    kinds = read;
    return {};
}

Status readSize(const QString &text, std::optional<NominalSize> &size)
{
    const Result<std::optional<NominalSize>> read = parseSize(text);
    if (!read) {
        return tl::unexpected<Error>(read.error());
    }
    size = *read;
    return {};
}

Status readMonths(const QString &text, int &months)
{
    bool isNumber = false;
    const int read = text.trimmed().toInt(&isNumber);
    if (!isNumber || read < 0 || read > longestIntervalMonths) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("\"%1\" is no number of months. Write a whole number from 0 to "
                                "%2; 0 means that these valves are not exercised.")
                        .arg(text.trimmed())
                        .arg(longestIntervalMonths));
    }
    months = read;
    return {};
}

} // namespace

QString appliesToText(const PolicyRule &rule, UnitSystem units)
{
    QStringList parts;
    if (rule.sizeFrom && rule.sizeTo) {
        parts << QObject::tr("%1 to %2")
                     .arg(sizeText(*rule.sizeFrom, units), sizeText(*rule.sizeTo, units));
    } else if (rule.sizeFrom) {
        parts << QObject::tr("%1 and larger").arg(sizeText(*rule.sizeFrom, units));
    } else if (rule.sizeTo) {
        parts << QObject::tr("up to %1").arg(sizeText(*rule.sizeTo, units));
    }
    if (!rule.types.isEmpty()) {
        parts << joined(rule.types);
    }
    if (!rule.roles.isEmpty()) {
        parts << joined(rule.roles);
    }
    if (!rule.zones.isEmpty()) {
        parts << QObject::tr("zone %1").arg(rule.zones.join(QStringLiteral(", ")));
    }
    if (rule.criticalOnly) {
        parts << QObject::tr("critical customers");
    }
    return parts.isEmpty() ? QObject::tr("every valve") : parts.join(QStringLiteral("; "));
}

PolicyRuleForm::PolicyRuleForm(Store store, QWidget *parent)
    : QWidget(parent), m_store(std::move(store)), m_critical(new QCheckBox(this))
{
    auto *form = new QFormLayout(this);
    form->setContentsMargins(0, 0, 0, 0);
    form->setVerticalSpacing(5);
    m_name = addLine(tr("Name"), {}, [](PolicyRule &rule, const QString &text) -> Status {
        if (text.trimmed().isEmpty()) {
            return fail(ErrorCode::BadInput, tr("A rule needs a name: it stands in the due list."));
        }
        rule.name = text.trimmed();
        return {};
    });
    m_months = addLine(tr("Every ... months"), tr("0: not exercised"),
                       [](PolicyRule &rule, const QString &text) {
                           return readMonths(text, rule.intervalMonths);
                       });
    m_sizeFrom = addLine(tr("Size from"), tr("any"), [](PolicyRule &rule, const QString &text) {
        return readSize(text, rule.sizeFrom);
    });
    m_sizeTo = addLine(tr("Size to"), tr("any"), [](PolicyRule &rule, const QString &text) {
        return readSize(text, rule.sizeTo);
    });
    m_types = addLine(tr("Types"), tr("any; else gate, butterfly, ..."),
                      [](PolicyRule &rule, const QString &text) {
                          return readKinds(text, rule.types, parseValveType);
                      });
    m_roles = addLine(tr("Roles"), tr("any; else main line, hydrant lead, ..."),
                      [](PolicyRule &rule, const QString &text) {
                          return readKinds(text, rule.roles, parseValveRole);
                      });
    m_zones = addLine(tr("Pressure zones"), tr("any; else names between commas"),
                      [](PolicyRule &rule, const QString &text) -> Status {
                          rule.zones = listed(text);
                          return {};
                      });
    m_source = addLine(tr("Source"), tr("where the interval comes from"),
                       [](PolicyRule &rule, const QString &text) -> Status {
                           rule.source = text.trimmed();
                           return {};
                       });
    m_critical->setText(tr("Only valves with critical customers"));
    form->addRow(QString(), m_critical);
    connect(m_critical, &QCheckBox::clicked, this, [this](bool on) {
        PolicyRule after = m_rule;
        after.criticalOnly = on;
        if (!m_store(after)) {
            m_critical->setChecked(m_rule.criticalOnly);
        }
    });
}

CheckedLine *PolicyRuleForm::addLine(const QString &label, const QString &hint, Change change)
{
    auto *line = new CheckedLine(
        label,
        [this, change = std::move(change)](const QString &text) -> Status {
            PolicyRule after = m_rule;
            Status read = change(after, text);
            if (!read || after == m_rule) {
                return read;
            }
            if (after.sizeFrom && after.sizeTo && *after.sizeTo < *after.sizeFrom) {
                return fail(ErrorCode::BadInput,
                            tr("No valve fits: the size it goes up to is smaller than the size it "
                               "starts from."));
            }
            return m_store(after);
        },
        this);
    line->line()->setPlaceholderText(hint);
    static_cast<QFormLayout *>(layout())->addRow(label, line);
    return line;
}

void PolicyRuleForm::showRule(int index, const PolicyRule &rule, UnitSystem units)
{
    const bool another = index != m_index;
    m_index = index;
    m_rule = rule;
    const auto sizeOf = [units](const std::optional<NominalSize> &size) {
        return size ? sizeText(*size, units) : QString();
    };
    const std::initializer_list<std::pair<CheckedLine *, QString>> texts{
        {m_name, rule.name},
        {m_months, QString::number(rule.intervalMonths)},
        {m_sizeFrom, sizeOf(rule.sizeFrom)},
        {m_sizeTo, sizeOf(rule.sizeTo)},
        {m_types, joined(rule.types)},
        {m_roles, joined(rule.roles)},
        {m_zones, rule.zones.join(QStringLiteral(", "))},
        {m_source, rule.source},
    };
    for (const auto &[line, text] : texts) {
        if (another) {
            line->reset(text);
        } else {
            line->setStored(text);
        }
    }
    m_critical->setChecked(rule.criticalOnly);
}

} // namespace keyround
